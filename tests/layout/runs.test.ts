import fc from 'fast-check';
import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { apply, invert, type Point } from '../../src/geometry';
import { defaultTop, faceKey, type Job, type Meeting, type Plan, type Strip } from '../../src/job';
import { jointBench, proposePlans, stripMap } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { helixFace } from '../support/helix-log';
import { runs } from '../support/runs';
import { type WavySlab, wavyJob } from '../support/wavy-slabs';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** Tops of these lengths in one run. */
function jobOf(slabs: readonly WavySlab[], lengths: readonly number[], meets: readonly Meeting[], seams = 0): Job {
  const top = { ...defaultTop('t'), depth: [280, 320] as [number, number], thickness: 30, seams };
  const tops = lengths.map((length, i) => ({ ...top, id: `t${i}`, name: `Top ${i}`, length }));
  return {
    ...wavyJob(slabs, {}),
    tops: Object.fromEntries(tops.map((one) => [one.id, one])),
    runs: { wall: { id: 'wall', name: 'Wall', tops: tops.map(({ id }) => id), meets: [...meets], from: 'anywhere' } },
  };
}

const plansOf = (job: Job): Promise<Plan[]> => proposePlans(job, new Map(), highs, unwatched());
const onFace = (strip: Strip, p: Point<'top'>): Point<'face'> => apply(invert(stripMap(strip)), p);

/** Room between the end of one piece and the beginning of the next, along the line and across it. */
function between(a: Strip, length: number, b: Strip): { along: number; across: number } {
  const [x, y] = apply(stripMap(a), onFace(b, [0, 0]));
  return { along: x - length, across: y };
}

const goesOn = fc.constantFrom<Meeting>('grain carries on', 'folds down');

describe('tops through which the grain goes on', () => {
  it('lie in one line on the slab with exactly the saw between, in the order of the run', async () => {
    const lengths = fc.array(fc.integer({ min: 350, max: 800 }), { minLength: 2, maxLength: 3 });
    await fc.assert(
      fc.asyncProperty(lengths, fc.array(goesOn, { minLength: 2, maxLength: 2 }), async (of, two) => {
        const meets = two.slice(0, of.length - 1);
        const job = jobOf([{ length: 2700, width: 420, swing: 6 }], of, meets);
        const plans = await plansOf(job);
        const [plan] = plans;
        expect(Object.keys(plan?.placements ?? {})).toHaveLength(of.length);
        meets.forEach((meeting, i) => {
          const [a, b] = [plan?.placements[`t${i}`]?.strips[0], plan?.placements[`t${i + 1}`]?.strips[0]];
          if (!a || !b) throw new Error('All are placed.');
          const { along, across } = between(a, of[i] as number, b);
          const kerf = job.shop.kerf.crosscut;
          // A blade that leans 45 degrees is wider on the face by the root of two.
          expect(along).toBeCloseTo(meeting === 'folds down' ? kerf * Math.SQRT2 : kerf, 2);
          expect(across).toBeCloseTo(0, 2);
          expect(a.toTop.slice(0, 4)).toEqual(b.toTop.slice(0, 4));
        });
        for (const each of plans) expect(checkPlan(job, each).faults).toEqual([]);
      }),
      { numRuns: runs(5) },
    );
  }, 120_000);

  it('share their seams too, strip by strip', async () => {
    const slab = { length: 2300, width: 200, swing: 3 };
    const job = jobOf([slab, slab], [900, 1100], ['grain carries on'], 1);
    const [plan] = await plansOf(job);
    if (!plan) throw new Error('There is a plan.');
    const [a, b] = [plan.placements.t0, plan.placements.t1];
    expect(a?.strips.map(({ slab }) => slab)).toEqual(b?.strips.map(({ slab }) => slab));
    expect(a?.strips).toHaveLength(2);
    expect(checkPlan(job, plan).faults).toEqual([]);
  });

  it.runIf(process.env.SLOW)(
    'say how each part of their seam looks, not how all of it does',
    async () => {
      const size = { width: 1100, height: 200, y0: 60 };
      const job = jobOf(
        [0, 1].map(() => ({ length: size.width, width: size.height, swing: 0 })),
        [450, 450],
        ['grain carries on'],
        1,
      );
      for (const top of Object.values(job.tops)) Object.assign(top, { front: 'straight', leastStrip: 60 });
      job.shop.seam = { ...job.shop.seam, slide: 40, angle: 0.5, ends: 'same' };
      const pictures = new Map([
        [faceKey('log', 'slab-1', 'top'), helixFace(60, size)],
        [faceKey('log', 'slab-2', 'top'), helixFace(30, size)],
      ]);
      const plans = await proposePlans(job, pictures, highs, unwatched());
      const seamed = plans.filter(({ placements }) => placements.t0?.joints.length === 1);
      expect(seamed.length).toBeGreaterThan(0);
      const placements: Plan['placements'] = seamed[0]?.placements ?? {};
      for (const placement of Object.values(placements)) {
        // As the joint of this top alone is looked at when a hand takes it.
        const own = jointBench(job, placement, pictures).move({ side: 0, by: 0, turn: 0, slide: 0 });
        expect(placement.joints[0]?.lines).toBeCloseTo(own?.placement.joints[0]?.lines as number, 3);
      }
      expect(placements.t0?.joints[0]?.lines).not.toBe(placements.t1?.joints[0]?.lines);
      expect(placements.t0?.joints[0]?.blend).not.toBe(placements.t1?.joints[0]?.blend);
    },
    60_000,
  );

  it('are missed together where no slab is long enough for all, each told so', async () => {
    const job = jobOf([{ length: 1500, width: 420, swing: 4 }], [900, 900], ['grain carries on']);
    const [plan] = await plansOf(job);
    expect(plan?.placements).toEqual({});
    expect(plan?.misses.map(({ top, limit }) => [top, limit])).toEqual([
      ['t0', 'length'],
      ['t1', 'length'],
    ]);
    // Each by itself would fit, had it not to go on into the other.
    const [free] = await plansOf({ ...job, runs: {} });
    expect(Object.keys(free?.placements ?? {}).length).toBeGreaterThan(0);
  });

  it('cannot be had where they want different things, and it is said which', async () => {
    const job = jobOf([{ length: 2600, width: 420, swing: 4 }], [900, 900], ['grain carries on']);
    Object.assign(job.tops.t1 ?? {}, { front: 'straight' });
    const [plan] = await plansOf(job);
    expect(plan?.misses.map(({ message }) => message).join()).toMatch(/Wall: .*front and back edges/);
  });

  it('are kept together where one of them is locked', async () => {
    const job = jobOf([{ length: 2700, width: 420, swing: 6 }], [700, 800], ['folds down']);
    const plans = await plansOf(job);
    const kept = plans.at(-1) as Plan;
    const locked = { ...job, plans: { [kept.id]: kept }, locks: { l: { id: 'l', plan: kept.id, top: 't1' } } };
    const [again] = await plansOf(locked);
    expect(again?.placements).toEqual(kept.placements);
  });
});

describe('the checker of runs', () => {
  const spoilt = async (change: (plan: Plan, job: Job) => void): Promise<string> => {
    const job = jobOf([{ length: 2700, width: 420, swing: 6 }], [700, 800], ['grain carries on']);
    const [plan] = structuredClone(await plansOf(job));
    if (!plan) throw new Error('There is a plan.');
    change(plan, job);
    return checkPlan(job, plan)
      .faults.filter(({ rule }) => rule === 'run' || rule === 'source')
      .map(({ message }) => message)
      .join();
  };
  const slid = (strip: Strip, by: number): void => {
    const [a, b, c, d, e, f] = strip.toTop;
    strip.toTop = [a, b, c, d, e - by * a * a - by * c * c, f - by * b * a - by * d * c];
    strip.finished = strip.finished.map(([x, y]) => [x + by * a, y + by * c] as const);
    strip.rough = strip.rough.map(([x, y]) => [x + by * a, y + by * c] as const);
  };

  it('passes what the search made', async () => {
    expect(await spoilt(() => {})).toBe('');
  });

  it.each<[string, RegExp, (plan: Plan, job: Job) => void]>([
    [
      'a piece a tenth of a millimetre off the line',
      /from where the first/,
      (plan) => slid(plan.placements.t1?.strips[0] as Strip, 0.1),
    ],
    ['pieces in the wrong order', /does not go on/, (_, job) => job.runs.wall?.tops.reverse()],
    [
      'a wider saw',
      /does not go on/,
      (_, job) => Object.assign(job.shop.kerf, { crosscut: job.shop.kerf.crosscut + 1 }),
    ],
    [
      'a fold instead of a butt',
      /does not go on/,
      (_, job) => Object.assign(job.runs.wall ?? {}, { meets: ['folds down'] }),
    ],
    [
      'square ends that are to be mitred',
      /same angle/,
      (_, job) => Object.assign(job.runs.wall ?? {}, { meets: ['mitre'] }),
    ],
    [
      'two flitches where one is asked for',
      /one flitch/,
      (plan, job) => {
        Object.assign(job.runs.wall ?? {}, { from: 'one flitch', meets: ['apart'] });
        Object.assign(plan.placements.t1?.strips[0] ?? {}, { flitch: 'other' });
      },
    ],
  ])('finds %s', async (_, message, change) => {
    expect(await spoilt(change)).toMatch(message);
  });
});
