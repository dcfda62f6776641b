import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import loadHighs from 'highs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPhoto, toPng } from '../../src/cli/photo-file';
import { type Job, type Plan, writeJobFile } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { unwatched } from '../../src/search';
import { Bench, type Called, errorOf, faultOf, faultsAgainst } from './call';
import { smallJob } from './small-job';

let bench: Bench;
let called: Called;

async function jobFolder(name: string, job: unknown): Promise<string> {
  await mkdir(join(bench.folder, name));
  return bench.put(`${name}/job.json`, job).then(() => name);
}

const bytesOf = (name: string) => readFile(join(bench.folder, name));
const planOf = async (folder: string) => JSON.parse((await bytesOf(`${folder}/plan.json`)).toString());

beforeAll(async () => {
  bench = await Bench.make();
  await jobFolder('job', smallJob());
  called = await bench.call(['plan', 'job', '--out', 'out', '--progress']);
}, 120_000);
afterAll(() => bench[Symbol.asyncDispose]());

describe('plan', () => {
  it('writes the plan, the map, drawings and tables, and lists them', async () => {
    expect([called.status, called.out, called.told.at(-1)]).toEqual([0, '', '100 % done']);
    const files = (await bench.files()).filter((name) => name.startsWith('out/')).map((name) => name.slice(4));
    const { files: listed } = await planOf('out');
    expect(files).toEqual([...listed, 'plan.json'].sort());
    for (const wanted of ['cutting-map.pdf', 'budget.csv']) expect(files).toContain(wanted);
    expect(files.filter((name) => name.endsWith('.dxf'))).toHaveLength(2);
    expect((await bytesOf('out/cutting-map.pdf')).subarray(0, 5).toString()).toBe('%PDF-');
    expect(files.filter((name) => name.endsWith('.svg')).length).toBeGreaterThan(3);
  });

  it('says it in a shape that its schema promises', async () => {
    const { out } = await bench.call(['schema', 'plan']);
    expect(faultsAgainst(JSON.parse(out), await planOf('out'))).toEqual([]);
  });

  it('accounts for every square millimetre of both slabs, and passes its checker', async () => {
    const { areas, verdict, placements, joints } = await planOf('out');
    expect(verdict).toEqual({ passed: true, faults: [] });
    expect([placements.length, joints.length, areas.length]).toEqual([1, 1, 2]);
    for (const { stock, parts, kerf, offcuts, waste } of areas)
      expect(Math.abs(stock - parts - kerf - offcuts - waste)).toBeLessThan(0.01);
  });

  it('adds every budget up to its rough thickness', async () => {
    const { budgets } = await planOf('out');
    expect(budgets).toHaveLength(2);
    for (const { budget } of budgets) {
      const [rough, ...rest] = budget.map(({ mm }: { mm: number }) => mm);
      expect(Math.abs(rest.reduce((sum: number, mm: number) => sum + mm, 0) - rough)).toBeLessThan(0.01);
    }
  });

  it('gives the same bytes again, from the job file too, and takes away the files of an older plan', async () => {
    await bench.put('job.zip', await writeJobFile({ job: smallJob(), files: new Map() }));
    await mkdir(join(bench.folder, 'again'));
    await bench.put('again/plan.json', { files: ['old.dxf', '../job.zip', 'notes.txt'] });
    await bench.put('again/old.dxf', 'of an older plan');
    await bench.put('again/notes.txt', "the maker's own");
    const { status, told } = await bench.call(['plan', 'job.zip', '--out', 'again']);
    expect([status, told]).toEqual([0, []]);
    for (const name of ['plan.json', ...(await planOf('out')).files])
      expect((await bytesOf(`again/${name}`)).equals(await bytesOf(`out/${name}`)), name).toBe(true);
    const left = await bench.files();
    expect(left).not.toContain('again/old.dxf');
    expect(left).toContain('again/notes.txt');
    expect(left).toContain('job.zip');
  });

  it('takes the plan that the job keeps, and refuses it once it does not fit the job any more', async () => {
    const job = smallJob();
    const [, second] = await proposePlans(job, new Map(), await loadHighs(), unwatched());
    const kept: Job = { ...job, plans: { mine: { ...(second as Plan), id: 'mine' } }, keptPlan: 'mine' };
    await jobFolder('kept', kept);
    expect(await bench.call(['plan', 'kept', '--out', 'kept-out'])).toMatchObject({ status: 0, told: [] });
    expect((await planOf('kept-out')).plan.id).toBe('mine');

    const face = kept.flitches.log?.slabs.front?.faces.top as Job['flitches'][string]['slabs'][string]['faces']['top'];
    face.outline = { outer: (face.outline?.outer ?? []).map(([x, y]) => [x / 2, y] as const), holes: [] };
    await jobFolder('cut-down', kept);
    const fault = await bench.call(['plan', 'cut-down', '--out', 'none']);
    expect([fault.status, errorOf(fault).where]).toEqual([2, '/plans/mine']);
  });

  it("shows every top made from its slabs' photos, at 1 mm a pixel, the front slab in front", async () => {
    const job = smallJob();
    await jobFolder('photos', job);
    // Reddish wood in front and greenish behind, streaked along the slab.
    for (const [id, tone] of [
      ['front', [200, 120, 60]],
      ['back', [90, 170, 60]],
    ] as const) {
      const [width, height] = [1200, 310];
      const data = Uint8Array.from({ length: width * height * 3 }, (_, i) => {
        const row = Math.floor(i / 3 / width);
        return (tone[i % 3] as number) + 30 * Math.sin(row / 3 + (i % 7));
      });
      await bench.put(`photos/${id}.png`, await toPng({ width, height, channels: 3, data }));
      const face = job.flitches.log?.slabs[id]?.faces.top;
      if (face) face.picture = { file: `${id}.png`, mmPerPx: 1, x0: 0, y0: 0, width, height };
    }
    await bench.put('photos/job.json', job);
    expect(await bench.call(['plan', 'photos', '--out', 'shown', '--work', '100'])).toMatchObject({
      status: 0,
      told: [],
    });
    const { placements, files } = await planOf('shown');
    expect(files).toContain('top-shelf.png');
    const { raster } = await readPhoto(join(bench.folder, 'shown/top-shelf.png'), 'preview');
    const [placed] = placements;
    expect(Math.abs(raster.width - placed.length)).toBeLessThanOrEqual(2);
    expect(Math.abs(raster.height - placed.depth[1])).toBeLessThanOrEqual(2);
    const redder = (row: number) => {
      const at = (row * raster.width + Math.floor(raster.width / 2)) * 3;
      return (raster.data[at] as number) > (raster.data[at + 1] as number);
    };
    const [front, back] = placed.strips.map(({ slab }: { slab: string }) => slab === 'front');
    expect([redder(60), redder(raster.height - 60)]).toEqual([front, back]);
  });

  it('says which limit binds when no slab can give a top, and by how much', async () => {
    const job = smallJob();
    await jobFolder('long', { ...job, tops: { shelf: { ...job.tops.shelf, length: 1900 } } });
    const { status, told } = await bench.call(['plan', 'long', '--out', 'long-out']);
    expect([status, told.length]).toEqual([0, 1]);
    const { misses, placements } = await planOf('long-out');
    expect(placements).toEqual([]);
    expect(misses).toEqual([expect.objectContaining({ top: 'shelf', limit: 'length', by: expect.any(Number) })]);
    expect(misses[0].by).toBeGreaterThan(600);
  });
});

describe('plan, where the input is at fault', () => {
  const job = () => smallJob() as Job & Record<string, unknown>;

  it('names the place in the job, or the file, and writes nothing', async () => {
    const scale = { kind: 'markers', dictionary: '4x4_50', side: 80 } as const;
    const photographed = (file: string) => {
      const own = job();
      const face = own.flitches.log?.slabs.front?.faces.top;
      if (face) face.photos = { p: { id: 'p', file, width: 10, height: 10, scale, calibration: null } };
      if (face) face.outline = null;
      return own;
    };
    const otherWood = (species: string) => {
      const own = job();
      return { ...own, flitches: { log: { ...own.flitches.log, species } } };
    };
    // As if micrometres were millimetres: it would be searched for hours.
    const large = job();
    const face = large.flitches.log?.slabs.back?.faces.top;
    if (face?.outline)
      face.outline = { outer: face.outline.outer.map(([x, y]) => [x * 1000, y * 1000] as const), holes: [] };
    await jobFolder('large', large);
    await jobFolder('wood', otherWood('plastic'));
    await jobFolder('woods', otherWood('oak'));
    const text = await bench.put('text.zip', 'PK no zip at all');
    await jobFolder('empty', '');
    await jobFolder('newer', { ...job(), schema: 99 });
    await jobFolder('unknown', { ...job(), colour: 'red' });
    await jobFolder('topless', { ...job(), tops: {} });
    await jobFolder('gone', photographed('gone.jpg'));
    await jobFolder('outside', photographed('../../photo.jpg'));
    await jobFolder('bad', photographed('bad.jpg'));
    await writeFile(join(bench.folder, 'bad/bad.jpg'), 'no photo');
    for (const [name, where] of [
      ['nowhere', 'nowhere'],
      ['.', 'job.json'],
      [text, text],
      ['empty', 'empty/job.json'],
      ['newer', '/schema'],
      ['unknown', '/colour'],
      ['topless', '/tops'],
      ['large', '/flitches/log/slabs/back/faces/top/outline'],
      ['wood', '/flitches/log/species'],
      ['woods', '/flitches/log/species'],
      ['gone', 'gone.jpg'],
      ['outside', '/flitches/log/slabs/front/faces/top/photos/p/file'],
      ['bad', 'bad.jpg'],
    ] as const)
      expect((await faultOf(bench, ['plan', name, '--out', 'none'])).where, name).toBe(where);
  });

  it('refuses limits and targets that cannot be', async () => {
    await bench.put('a-file', '');
    for (const [line, where] of [
      ['plan job', '--out'],
      ['plan job --out no/where', 'no/where'],
      ['plan job --out a-file', 'a-file'],
      ['plan job --out job', 'job'],
      ['plan job --out none --work 5 --seconds 5', '--seconds'],
      ['plan job --out none --work 0', '--work'],
      ['plan job --out none --work 1.5', '--work'],
      ['plan job --out none --paper B5', '--paper'],
    ] as const)
      expect((await faultOf(bench, line.split(' '))).where, line).toBe(where);
  });
});
