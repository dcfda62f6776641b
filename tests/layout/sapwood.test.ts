import fc from 'fast-check';
import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { intersection, type Polygon, rectangle, regionsArea } from '../../src/geometry';
import type { Job, Plan, Strip, Top } from '../../src/job';
import { proposePlans, sapwoodAlong } from '../../src/layout';
import { checkPlan, planReport, sapwoodWords } from '../../src/plan';
import { unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

const [LENGTH, WIDTH] = [2600, 480];
/** Two sigma of the wavy slabs' outline, mm. */
const MARGIN = 1;

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** A straight slab with sapwood of these widths along its two live edges. */
function jobWith(widths: readonly [number, number], top: Partial<Top>, told: boolean | undefined = true): Job {
  const job = wavyJob([{ length: LENGTH, width: WIDTH, swing: 0, thickness: 54 }], {
    length: 1800,
    depth: [300, 320],
    front: 'straight',
    thickness: 38,
    seams: 0,
    ...top,
  });
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  const sapwood: Polygon<'face'>[] = [
    rectangle<'face'>(0, 0, LENGTH, widths[0]),
    rectangle<'face'>(0, WIDTH - widths[1], LENGTH, WIDTH),
  ];
  slab.faces.top = {
    ...slab.faces.top,
    sapwood: sapwood.filter((_, i) => (widths[i] ?? 0) > 0),
    ...(told !== undefined && { sapwoodTold: told }),
  };
  return job;
}

const plansOf = (job: Job): Promise<Plan[]> => proposePlans(job, new Map(), highs, unwatched());
const stripsOf = (plan: Plan): Strip[] => Object.values(plan.placements).flatMap(({ strips }) => strips);
const sapwoodIn = (job: Job, plan: Plan): number => {
  const sapwood = job.flitches.log?.slabs['slab-1']?.faces.top.sapwood ?? [];
  return stripsOf(plan).reduce(
    (sum, { finished }) =>
      sum +
      regionsArea(
        intersection(
          [{ outer: finished, holes: [] }],
          sapwood.map((outer) => ({ outer, holes: [] })),
        ),
      ),
    0,
  );
};

describe('a top that must show no sapwood', () => {
  it('holds none in any plan, and the checker would find it', async () => {
    const widths = fc.tuple(fc.integer({ min: 0, max: 75 }), fc.integer({ min: 0, max: 75 }));
    await fc.assert(
      fc.asyncProperty(widths, async (of) => {
        const job = jobWith(of, { sapwood: 'not' });
        const plans = await plansOf(job);
        expect(plans.flatMap(stripsOf).length).toBeGreaterThan(0);
        for (const plan of plans) {
          expect(sapwoodIn(job, plan)).toBeLessThan(2);
          expect(checkPlan(job, plan).faults).toEqual([]);
        }
      }),
      { numRuns: runs(10) },
    );
    // As deep as the slab: sapwood is in it, and only the wish makes a fault of that.
    const wide = jobWith([40, 40], { depth: [460, 470], sapwood: 'allowed' });
    const [plan] = await plansOf(wide);
    if (!plan) throw new Error('The slab gives it.');
    expect(checkPlan(wide, plan).passed).toBe(true);
    const minded = jobWith([40, 40], { depth: [460, 470], sapwood: 'not' });
    expect(
      checkPlan(minded, plan)
        .faults.map(({ message }) => message)
        .join(),
    ).toContain('sapwood');
  });

  it('is missed by what the sapwood takes, to the millimetre', async () => {
    const [plan] = await plansOf(jobWith([40, 50], { depth: [440, 450], sapwood: 'not' }));
    const [miss] = plan?.misses ?? [];
    expect(miss?.limit).toBe('sapwood');
    // Heart wood between the margins of the two strips.
    expect(miss?.by).toBeCloseTo(440 - (WIDTH - 40 - 50 - 2 * MARGIN), 0);
  });

  it('cannot keep a live edge that has sapwood, and can keep one that has none', async () => {
    const live = { front: 'live', sapwood: 'not' } as const;
    const [missed] = await plansOf(jobWith([30, 30], live));
    expect(missed?.misses[0]?.limit).toBe('sapwood');
    expect(missed?.misses[0]?.message).toContain('straight front');
    const [had] = await plansOf(jobWith([30, 0], live));
    expect(had?.misses).toEqual([]);
  });
});

describe('a top that wants sapwood', () => {
  it('is laid where it shows, where one that wants none is laid clear of it', async () => {
    const along = async (wish: Top['sapwood']) => {
      // Along the far half of one edge only.
      const job = jobWith([0, 0], { length: 1200, sapwood: wish });
      const slab = job.flitches.log?.slabs['slab-1'];
      if (slab) slab.faces.top.sapwood = [rectangle<'face'>(1350, 0, LENGTH, 40)];
      const [plan] = await plansOf(job);
      if (!plan) throw new Error('The slab gives it.');
      return planReport(job, plan).tops[0]?.sapwood.along ?? 0;
    };
    expect(await along('wanted')).toBeGreaterThan(0.95);
    expect(await along('not')).toBe(0);
  });
});

describe('how far sapwood shows', () => {
  const strip = (y: number): Strip =>
    ({ finished: rectangle<'face'>(100, y, 1100, y + 300), toTop: [1, 0, 0, 1, -100, -y] }) as unknown as Strip;

  it('is the share of the length over which a line across the top meets it, counted once', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 1200 }), fc.integer({ min: 20, max: 500 })), { maxLength: 4 }),
        (spans) => {
          const sapwood = spans.map(([x, long], i) => rectangle<'face'>(x, 10 + 70 * i, x + long, 60 + 70 * i));
          const met = Array.from({ length: 1000 }, (_, i) => 100.5 + i).filter((x) =>
            spans.some(([from, long]) => x > from && x < from + long),
          );
          expect(sapwoodAlong([strip(0)], [sapwood], 1000)).toBeCloseTo(met.length / 1000, 6);
          expect(sapwoodAlong([strip(0), strip(0)], [sapwood, sapwood], 1000)).toBeCloseTo(met.length / 1000, 6);
        },
      ),
    );
  });
});

it('where sapwood is not told from the heart, that is said, and the order of work sends to look', async () => {
  const job = jobWith([0, 0], { sapwood: 'not' }, false);
  const [plan] = await plansOf(job);
  if (!plan) throw new Error('The slab gives it.');
  const report = planReport(job, plan);
  const [words] = report.tops.map(({ sapwood }) => sapwoodWords(sapwood).join(' '));
  expect(words).toContain('On Slab 1 sapwood is not told from the heart');
  expect(report.order.map(({ step }) => step)).toContain('Look for sapwood');
  const sure = jobWith([0, 0], { sapwood: 'not' });
  const told = planReport(sure, plan);
  expect(told.tops.map(({ sapwood }) => sapwoodWords(sapwood))).toEqual([['No sapwood shows in it.']]);
  expect(told.order.map(({ step }) => step)).not.toContain('Look for sapwood');
  const careless = planReport(jobWith([0, 0], { sapwood: 'allowed' }, undefined), plan);
  expect(careless.tops.map(({ sapwood }) => sapwoodWords(sapwood))).toEqual([[]]);
});
