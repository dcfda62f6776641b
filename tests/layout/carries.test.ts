import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Job, Slab, Top } from '../../src/job';
import { type Carries, carriesOf } from '../../src/layout';
import { seededRandom } from '../../src/search';
import { rackJob } from '../support/rack';
import { runs } from '../support/runs';
import { tapedJob } from '../support/taped';

const TOPS: readonly Partial<Top>[] = [
  { name: 'Counter', length: 2000, depth: [600, 640], thickness: 36, seams: 1 },
  { name: 'Shelf', length: 1400, depth: [300, 330], thickness: 36, seams: 0, front: 'straight' },
];

const slabsOf = (job: Job): [string, Slab][] =>
  Object.values(job.flitches).flatMap(({ id, slabs }) =>
    Object.values(slabs).map((slab): [string, Slab] => [`${id}/${slab.id}`, slab]),
  );

/** Slabs known to the last millimetre, and free of defects, which no tape tells. */
function truth(seed: number, slabs = 3): Job {
  const job = rackJob({ slabs, seed, tops: TOPS });
  for (const [, { faces }] of slabsOf(job)) Object.assign(faces.top, { outlineSigma: 0, defects: {} });
  return job;
}

function setsOf(job: Job): string[][] {
  const keys = slabsOf(job).map(([key]) => key);
  return [...keys.map((key) => [key]), ...keys.flatMap((a, i) => keys.slice(i + 1).map((b) => [a, b]))];
}

/** One slab of 2,600 x 700 with edges of 60, for a top 2,000 x 600 and 36 thick. */
function onlySlab(change: Partial<Slab>, top: Partial<Top> = { front: 'straight' }): { job: Job; set: string[] } {
  const job = tapedJob(truth(1, 1), seededRandom(1));
  const [[key, slab]] = slabsOf(job) as [[string, Slab]];
  Object.assign(slab, {
    warp: { bow: 0, cup: null, twist: null, sigma: 1 },
    taped: { length: 2600, widths: [700, 700, 700], thicknesses: [60, 60, 60, 60] },
    ...change,
  });
  job.tops = { 'top-1': { ...(job.tops['top-1'] as Top), ...top } };
  return { job, set: [key] };
}

const told = ({ job, set }: { job: Job; set: string[] }): Carries => carriesOf(job, [set])[0] as Carries;

describe('what a tape, a string and callipers say of slabs that are known in truth', () => {
  it('is never surer than the truth: what it says to carry does in 95 % of cases, and what would is not refused', () => {
    let [said, right, wouldBe, refused] = [0, 0, 0, 0];
    for (const seed of process.env.SLOW ? [1, 2, 3, 4, 5, 6, 7, 8] : [1, 2]) {
      const job = truth(seed);
      const sets = setsOf(job);
      const real = carriesOf(job, sets);
      for (const one of carriesOf(tapedJob(job, seededRandom(seed)), sets)) {
        const same = real.find(({ top, slabs }) => top === one.top && slabs.join() === [...one.slabs].join());
        // In the truth the other slab may be the better one in front.
        const truly =
          same ?? real.find(({ top, slabs }) => top === one.top && slabs.join() === [...one.slabs].reverse().join());
        const does = Object.values(truly?.rooms ?? {}).every(({ spare }) => spare >= 0);
        if (one.says === 'carries') said++;
        if (one.says === 'carries' && does) right++;
        if (truly?.says === 'carries') wouldBe++;
        if (truly?.says === 'carries' && one.says === 'cannot') refused++;
      }
    }
    expect(said).toBeGreaterThan(3);
    expect(right / said).toBeGreaterThanOrEqual(0.95);
    expect(wouldBe).toBeGreaterThan(3);
    expect(refused).toBe(0);
  });
});

describe('a verdict', () => {
  it('follows from figures that can be reckoned by hand', () => {
    const { rooms, says } = told(onlySlab({}));
    expect(says).toBe('carries');
    // 2,600 long and 700 wide, less what is not sure of either edge, two sigma of 15 mm; columns stand 10 mm apart.
    expect(rooms.length).toEqual({ spare: 600, plusMinus: 60 });
    expect(Math.abs((rooms.depth?.spare ?? 0) - 100)).toBeLessThan(2);
    expect(Math.abs((rooms.depth?.plusMinus ?? 0) - 60)).toBeLessThan(2);
    // A slab of 60 that lies flat keeps more than 36 of it, and never gains.
    expect(rooms.thickness?.spare).toBeGreaterThan(5);
    expect(rooms.thickness?.spare).toBeLessThan(60 - 36);
  });

  it('is open without a thickness, refused where a limit is missed beyond its doubt, and names that limit', () => {
    const taped = { length: 2600, widths: [700, 700, 700], thicknesses: [null, null, null, null] } as Slab['taped'];
    expect(told(onlySlab({ taped })).says).toBe('may');
    expect(told(onlySlab({ taped: { ...taped, length: 1900 } as Slab['taped'] }))).toMatchObject({
      says: 'cannot',
      worst: 'length',
    });
    expect(told(onlySlab({ taped: { ...taped, widths: [500, 500, 500] } as Slab['taped'] }))).toMatchObject({
      says: 'cannot',
      worst: 'depth',
    });
    const thin = { ...taped, thicknesses: [40, 40, 40, 40] } as Slab['taped'];
    expect(told(onlySlab({ taped: thin }))).toMatchObject({ says: 'cannot', worst: 'thickness' });
  });

  it('is never sure of a live edge that may swing as far as its band is wide', () => {
    expect(told(onlySlab({}, { front: 'live', depth: [600, 620] }))).toMatchObject({ says: 'may', worst: 'live edge' });
    expect(told(onlySlab({}, { front: 'live', depth: [600, 680] })).says).toBe('carries');
  });

  it('leaves what sizes do not tell to the full look', () => {
    expect(told(onlySlab({}, { front: 'straight', back: 'live', seams: 0 }))).toMatchObject({
      says: 'may',
      worst: null,
    });
  });

  it('is never better for a narrower, shorter or thinner slab, nor for one that is known worse', () => {
    const RANK = { cannot: 0, may: 1, carries: 2 };
    const size = fc.record({
      length: fc.integer({ min: 1800, max: 2600 }),
      width: fc.integer({ min: 520, max: 760 }),
      thick: fc.integer({ min: 38, max: 64 }),
      by: fc.constantFrom('length', 'width', 'thick'),
      less: fc.integer({ min: 0, max: 120 }),
    });
    const slab = ({ length, width, thick }: { length: number; width: number; thick: number }) =>
      onlySlab({ taped: { length, widths: [width, width, width], thicknesses: [thick, thick, thick, thick] } });
    fc.assert(
      fc.property(size, ({ by, less, ...sizes }) => {
        const smaller = { ...sizes, [by]: sizes[by as 'length'] - (by === 'thick' ? less / 10 : less) };
        return RANK[told(slab(smaller)).says] <= RANK[told(slab(sizes)).says];
      }),
      { numRuns: runs(12) },
    );
  });

  it('is the same from a memo, which is asked anew once the slab has changed', () => {
    const memo = new Map();
    const { job, set } = onlySlab({});
    const first = carriesOf(job, [set], memo);
    expect(carriesOf(job, [set], memo)).toEqual(first);
    const narrow = onlySlab({ taped: { length: 2600, widths: [500, 500, 500], thicknesses: [60, 60, 60, 60] } });
    expect(carriesOf(narrow.job, [narrow.set], memo)).toEqual(carriesOf(narrow.job, [narrow.set]));
  });
});
