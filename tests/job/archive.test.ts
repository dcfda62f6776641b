import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import JSZip from 'jszip';
import { describe, expect, it, vi } from 'vitest';
import { emptyFace, emptyFlitch, emptyJob, emptySlab, type Job, readJobFile, writeJobFile } from '../../src/job';

/** A job with one slab of one photo. */
function jobWithPhoto(file = 'photos/a.jpg'): Job {
  const slab = emptySlab('s1', 1);
  const scale = { kind: 'markers', dictionary: '4x4_50', side: 80 } as const;
  slab.faces.top = {
    ...emptyFace(),
    photos: { p1: { id: 'p1', file, width: 40, height: 30, scale, calibration: null } },
  };
  const flitch = { ...emptyFlitch('f1', 'Log', 'walnut_black'), slabs: { s1: slab } };
  return { ...emptyJob('j1', 'Job', '2026-11-25'), flitches: { f1: flitch } };
}

const photo = Uint8Array.from({ length: 5000 }, (_, i) => (i * 31) % 251);
const zipped = (entries: Record<string, Uint8Array>) => zipSync(entries) as Uint8Array<ArrayBuffer>;
const json = (job: Job) => strToU8(JSON.stringify(job));

describe('the job file', () => {
  it('carries the job and its photos there and back', async () => {
    const job = jobWithPhoto();
    const back = await readJobFile(await writeJobFile({ job, files: new Map([['photos/a.jpg', photo]]) }));
    expect(back.job).toEqual(job);
    expect(back.files.get('photos/a.jpg')).toEqual(photo);
  });

  it('is the same bytes for the same job, whatever the time zone', async () => {
    const file = { job: jobWithPhoto(), files: new Map([['photos/a.jpg', photo]]) };
    const here = await writeJobFile(file);
    vi.stubEnv('TZ', 'Pacific/Kiritimati');
    const there = await writeJobFile(file);
    vi.unstubAllEnvs();
    expect(there).toEqual(here);
  });

  it('refuses to be written without a photo that the job names', async () => {
    await expect(writeJobFile({ job: jobWithPhoto(), files: new Map() })).rejects.toMatchObject({
      where: 'photos/a.jpg',
    });
  });

  it('reads a bare job.json with its photos beside it', async () => {
    const bare = json(jobWithPhoto()) as Uint8Array<ArrayBuffer>;
    const { files } = await readJobFile(bare, new Map([['photos/a.jpg', photo]]));
    expect([...files.keys()]).toEqual(['photos/a.jpg']);
  });

  it('refuses a file cut short anywhere', async () => {
    const whole = await writeJobFile({ job: jobWithPhoto(), files: new Map([['photos/a.jpg', photo]]) });
    for (const share of [0, 0.01, 0.3, 0.9, 0.999])
      await expect(readJobFile(whole.slice(0, Math.floor(whole.length * share)))).rejects.toMatchObject({
        name: 'InputProblem',
      });
  });

  it('refuses paths that lead out, in the archive and in the job', async () => {
    for (const path of ['../a.jpg', '/etc/a.jpg', 'a/../../b.jpg', 'C:a.jpg', '..\\a.jpg']) {
      const archive = zipped({ 'job.json': json(jobWithPhoto()), 'photos/a.jpg': photo, [path]: photo });
      await expect(readJobFile(archive)).rejects.toMatchObject({ where: path });
      const inside = zipped({ 'job.json': json(jobWithPhoto(path)) });
      await expect(readJobFile(inside)).rejects.toMatchObject({
        where: '/flitches/f1/slabs/s1/faces/top/photos/p1/file',
      });
    }
  });

  it('refuses an archive that unpacks to more than it may, before unpacking it', async () => {
    const archive = zipped({ 'job.json': json(jobWithPhoto()), 'photos/a.jpg': new Uint8Array(1000) });
    // The central directory says how large an entry becomes: four bytes at 24 of its record (APPNOTE 4.3.12).
    const record = findCentral(archive, 'photos/a.jpg');
    new DataView(archive.buffer).setUint32(record + 24, 0xfffffff0, true);
    await expect(readJobFile(archive)).rejects.toThrow(/too large/);
  });

  it('refuses a file that claims to unpack to more than any can, and never unpacks what the job does not name', async () => {
    const archive = zipped({ 'job.json': json(jobWithPhoto()), 'photos/a.jpg': new Uint8Array(1000), 'b.jpg': photo });
    const view = new DataView(archive.buffer);
    const size = view.getUint32(findCentral(archive, 'photos/a.jpg') + 24, true);
    view.setUint32(findCentral(archive, 'photos/a.jpg') + 24, 900 * 2 ** 20, true);
    await expect(readJobFile(archive)).rejects.toMatchObject({ name: 'InputProblem', where: 'photos/a.jpg' });
    view.setUint32(findCentral(archive, 'photos/a.jpg') + 24, size, true);
    view.setUint32(findCentral(archive, 'b.jpg') + 24, 900 * 2 ** 20, true);
    expect([...(await readJobFile(archive)).files.keys()]).toEqual(['photos/a.jpg']);
  });

  it('is read alike by another library: the same files, the same bytes', async () => {
    const job = jobWithPhoto();
    const zip = await JSZip.loadAsync(await writeJobFile({ job, files: new Map([['photos/a.jpg', photo]]) }), {
      checkCRC32: true,
    });
    expect(Object.keys(zip.files).filter((name) => !name.endsWith('/'))).toEqual(['job.json', 'photos/a.jpg']);
    expect(JSON.parse(await zip.file('job.json')!.async('string'))).toEqual(job);
    expect(await zip.file('photos/a.jpg')!.async('uint8array')).toEqual(photo);
  });

  it('reads what another library packed, and refuses a name that it holds twice', async () => {
    const zip = new JSZip();
    zip.file('job.json', JSON.stringify(jobWithPhoto()));
    zip.file('photos/a.jpg', photo);
    zip.file('photos/x.jpg', photo);
    const archive = (await zip.generateAsync({
      type: 'uint8array',
      compression: 'DEFLATE',
    })) as Uint8Array<ArrayBuffer>;
    expect((await readJobFile(archive)).files.get('photos/a.jpg')).toEqual(photo);
    archive[findCentral(archive, 'photos/x.jpg') + 46 + 'photos/'.length] = 'a'.charCodeAt(0);
    await expect(readJobFile(archive)).rejects.toThrow(/twice/);
  });

  it('never opens as another job, whatever byte changed on the way: the same, or a sentence', async () => {
    const whole = { job: jobWithPhoto(), files: new Map([['photos/a.jpg', photo]]) };
    const bytes = await writeJobFile(whole);
    const change = fc.tuple(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }));
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 3 }), async (changes) => {
        const spoilt = bytes.slice();
        for (const [at, by] of changes) spoilt[at]! ^= by;
        const read = await readJobFile(spoilt).catch((error) => error);
        if (read instanceof Error)
          expect(read).toMatchObject({ name: 'InputProblem', mend: expect.stringMatching(/.+/) });
        else expect(read).toEqual(whole);
      }),
      { numRuns: 300 },
    );
  });

  it('refuses a ZIP without a job and a job of another kind', async () => {
    await expect(readJobFile(zipped({ 'a.jpg': photo }))).rejects.toThrow(/no job.json/);
    await expect(readJobFile(strToU8('{"schema":1}') as Uint8Array<ArrayBuffer>)).rejects.toMatchObject({
      where: '/id',
    });
    await expect(readJobFile(strToU8('hello') as Uint8Array<ArrayBuffer>)).rejects.toThrow(/neither a ZIP/);
  });
});

/** Where the central directory's record of an entry begins. */
function findCentral(archive: Uint8Array, name: string): number {
  const view = new DataView(archive.buffer);
  for (let at = 0; at + 46 < archive.length; at++) {
    if (view.getUint32(at, true) !== 0x02014b50) continue;
    const length = view.getUint16(at + 28, true);
    if (new TextDecoder().decode(archive.subarray(at + 46, at + 46 + length)) === name) return at;
  }
  throw new Error(`no record of ${name}`);
}
