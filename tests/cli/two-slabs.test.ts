import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { traceJob } from '../../src/cli/job-pictures';
import { type Point, ringArea } from '../../src/geometry';
import { emptyFlitch, emptyJob, emptySlab, type Job, type Scale } from '../../src/job';
import { unwatched } from '../../src/search';
import { openCv } from '../photo/opencv';
import { ABOVE, NEAR, SLABS, shootTwoSlabs } from '../photo/two-slabs';
import { Bench, faultOf } from './call';

const scale: Scale = { kind: 'markers', dictionary: '4x4_50', side: 80 };
let bench: Bench;
let photo: Buffer;

beforeAll(async () => {
  bench = await Bench.make();
  const { cv } = await openCv();
  const { width, height, channels, data } = shootTwoSlabs(cv);
  photo = await sharp(data, { raw: { width, height, channels } }).jpeg({ quality: 90 }).toBuffer();
  await bench.put('two.jpg', photo);
  await bench.put('scale.json', scale);
}, 60_000);
afterAll(() => bench[Symbol.asyncDispose]());

function jobOf(slabAt?: Point<'photo'>): Job {
  const slab = emptySlab('s', 1);
  const { width, height } = ABOVE;
  slab.faces.top.photos.p = {
    id: 'p',
    file: 'two.jpg',
    width,
    height,
    scale,
    calibration: null,
    ...(slabAt && { slabAt }),
  };
  const job = emptyJob('j', 'Job', '2026-11-25');
  return { ...job, flitches: { log: { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { s: slab } } } };
}

const traced = (job: Job) =>
  traceJob({ folder: bench.folder, job, files: new Map([['two.jpg', new Uint8Array(photo)]]) }, unwatched());

it('trace names the photo, and mends that a command line has', async () => {
  const error = await faultOf(bench, ['trace', 'two.jpg', '--scale', 'scale.json']);
  expect(error.where).toBe('two.jpg');
  expect(error.mend).not.toMatch(/stroke/);
}, 60_000);

it.runIf(process.env.SLOW)(
  'a job names the value that answers, and is traced by it',
  async () => {
    await expect(traced(jobOf())).rejects.toMatchObject({
      where: '/flitches/log/slabs/s/faces/top/photos/p/slabAt',
      mend: expect.stringMatching(/pixel/),
    });
    const { job } = await traced(jobOf(NEAR));
    const { outline } = job.flitches.log!.slabs.s!.faces.top;
    expect(Math.abs(ringArea(outline!.outer) / (SLABS.length * SLABS.width) - 1)).toBeLessThan(0.01);
  },
  60_000,
);
