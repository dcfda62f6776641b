import fc from 'fast-check';
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import {
  applyAll,
  bounds,
  difference,
  intersection,
  type Point,
  type Polygon,
  rectangle,
  regionsArea,
} from '../../src/geometry';
import type { Defect, Job } from '../../src/job';
import { fromFarFace, proposePlans } from '../../src/layout';
import { prepareStock } from '../../src/layout/stock';
import { checkPlan, planReport } from '../../src/plan';
import { unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

/** What only the underside shows and goes through is kept off on the upper face, too. */
const tie = {
  top: [
    [100, 100],
    [2500, 100],
  ],
  // The slab turned over about its long axis: across counts from the other edge.
  bottom: [
    [100, 380],
    [2500, 380],
  ],
} as NonNullable<Job['flitches'][string]['slabs'][string]['tie']>;

function jobWith(hole: Polygon<'face'> | null, through: boolean): Job {
  const job = wavyJob([{ length: 2600, width: 480, swing: 6, thickness: 54 }], {
    length: 900,
    depth: [300, 320],
    front: 'straight',
    thickness: 30,
    seams: 0,
  });
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.tie = tie;
  if (hole) {
    const defect = { id: 'v', kind: 'void' as const, polygon: hole, permit: 'avoid' as const, through };
    slab.faces.bottom = { ...slab.faces.bottom, defects: { v: defect } };
  }
  return job;
}

const planned = async (job: Job) => {
  const plans = await proposePlans(job, new Map(), await loadHighs(), unwatched());
  return plans.flatMap((plan) => Object.values(plan.placements).flatMap(({ strips }) => strips));
};

describe('a void that only the underside shows', () => {
  it('is kept off where it goes through, and costs nothing where it does not', async () => {
    const [free] = await planned(jobWith(null, true));
    if (!free) throw new Error('A sound slab gives a plan.');
    const { minX, maxX, minY, maxY } = bounds(free.finished);
    const spot = rectangle<'face'>(
      (minX + maxX) / 2 - 30,
      (minY + maxY) / 2 - 20,
      (minX + maxX) / 2 + 30,
      (minY + maxY) / 2 + 20,
    );
    // The map between the faces is its own way back: a mirror, a turn and a shift by the same marks.
    const below = applyAll(fromFarFace({ top: tie.bottom, bottom: tie.top } as unknown as typeof tie), spot);
    const strips = (await planned(jobWith(below, true))).filter(({ face }) => face === 'top');
    expect(strips.length).toBeGreaterThan(0);
    for (const { finished } of strips) {
      const held = intersection([{ outer: finished, holes: [] }], [{ outer: spot, holes: [] }]);
      expect(regionsArea(held)).toBeLessThan(1);
    }
    const [same] = await planned(jobWith(below, false));
    expect(same?.finished).toEqual(free.finished);
  });
});

type Tie = typeof tie;
type Through = boolean | undefined;

/** Two marks seen on both faces, the underside lying anyhow in its own frame. */
const ties = fc
  .record({
    x: fc.integer({ min: 50, max: 400 }),
    y: fc.integer({ min: 60, max: 420 }),
    span: fc.integer({ min: 1200, max: 2100 }),
    rise: fc.integer({ min: -50, max: 50 }),
    turn: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
    dx: fc.integer({ min: -500, max: 500 }),
    dy: fc.integer({ min: -500, max: 500 }),
  })
  .map(({ x, y, span, rise, turn, dx, dy }): Tie => {
    const top: readonly Point<'face'>[] = [
      [x, y],
      [x + span, y + rise],
    ];
    // Turned over about its long axis, then laid down anywhere: y is mirrored, all is turned and moved.
    const seen = top.map(([px, py]) => [
      Math.cos(turn) * px + Math.sin(turn) * py + dx,
      Math.sin(turn) * px - Math.cos(turn) * py + dy,
    ]);
    return { top, bottom: seen } as unknown as Tie;
  });

const defects = fc
  .record({
    x: fc.integer({ min: 300, max: 2300 }),
    y: fc.integer({ min: 60, max: 420 }),
    length: fc.integer({ min: 20, max: 300 }),
    width: fc.integer({ min: 8, max: 60 }),
    crack: fc.boolean(),
  })
  .map(
    ({ x, y, length, width, crack }): Pick<Defect, 'line' | 'polygon' | 'kind'> =>
      crack
        ? {
            kind: 'shake',
            line: [
              [x - length / 2, y, 2],
              [x, y + 4, 5],
              [x + length / 2, y, 1],
            ],
          }
        : { kind: 'void', polygon: rectangle<'face'>(x - length / 2, y - width / 2, x + length / 2, y + width / 2) },
  );

/** The same wood seen from below: what the marks on the two faces say. */
function seenFromBelow({ line, polygon, ...rest }: Pick<Defect, 'line' | 'polygon' | 'kind'>, by: Tie) {
  const down = fromFarFace({ top: by.bottom, bottom: by.top } as unknown as Tie);
  const places =
    line &&
    applyAll<'face', 'face'>(
      down,
      line.map(([x, y]) => [x, y] as const),
    );
  return {
    ...rest,
    ...(polygon && { polygon: applyAll<'face', 'face'>(down, polygon) }),
    ...(line && places && { line: places.map(([x, y], i): [number, number, number] => [x, y, line[i]?.[2] ?? 0]) }),
  };
}

function jobOf(by: Tie, on: 'top' | 'bottom', seen: Pick<Defect, 'line' | 'polygon' | 'kind'>, through: Through): Job {
  const job = jobWith(null, true);
  const slab = job.flitches.log?.slabs['slab-1'];
  if (!slab) throw new Error('It has one slab.');
  slab.tie = by;
  const defect: Defect = { id: 'd1', permit: 'avoid', ...seen, ...(through !== undefined && { through }) };
  slab.faces[on] = { ...slab.faces[on], defects: { d1: defect } };
  return job;
}

const forbiddenOn = (job: Job) => prepareStock(job, new Map()).find(({ face }) => face === 'top')?.forbidden ?? [];

describe('what the other face shows', () => {
  it('forbids the same wood as if this face showed it, unless it is said to stop short', () => {
    fc.assert(
      fc.property(ties, defects, fc.constantFrom<Through>(true, undefined), (by, defect, through) => {
        const here = forbiddenOn(jobOf(by, 'top', defect, through));
        const below = seenFromBelow(defect, by);
        const there = forbiddenOn(jobOf(by, 'bottom', below, through));
        expect(regionsArea(here)).toBeGreaterThan(0);
        expect(regionsArea(difference(here, there))).toBeLessThan(1);
        expect(regionsArea(difference(there, here))).toBeLessThan(1);
        expect(forbiddenOn(jobOf(by, 'bottom', below, false))).toEqual([]);
      }),
      { numRuns: 50 },
    );
  });

  it('never comes into a plan where it goes through or may, and the checker, by its own way, agrees', async () => {
    const highs = await loadHighs();
    await fc.assert(
      fc.asyncProperty(ties, defects, fc.constantFrom<Through>(true, undefined), async (by, defect, through) => {
        const job = jobOf(by, 'bottom', seenFromBelow(defect, by), through);
        const area = forbiddenOn(jobOf(by, 'top', defect, through));
        for (const plan of await proposePlans(job, new Map(), highs, unwatched())) {
          for (const { strips } of Object.values(plan.placements)) {
            for (const { finished, face } of strips) {
              if (face !== 'top') continue;
              expect(regionsArea(intersection([{ outer: finished, holes: [] }], area))).toBeLessThan(4);
            }
          }
          expect(checkPlan(job, plan).faults).toEqual([]);
        }
      }),
      { numRuns: runs(8) },
    );
  });

  it('is found by the checker in a plan made before anybody looked below', async () => {
    const sound = jobWith(null, true);
    const [plan] = await proposePlans(sound, new Map(), await loadHighs(), unwatched());
    if (!plan) throw new Error('A sound slab gives a plan.');
    const [strip] = Object.values(plan.placements).flatMap(({ strips }) => strips);
    const { minX, maxX, minY, maxY } = bounds(strip?.finished ?? []);
    const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
    fc.assert(
      fc.property(ties, (by) => {
        const defect = { kind: 'void' as const, polygon: rectangle<'face'>(x - 20, y - 10, x + 20, y + 10) };
        const job = jobOf(by, 'bottom', seenFromBelow(defect, by), true);
        const { passed, faults } = checkPlan(job, plan);
        expect(passed).toBe(false);
        expect(faults.map(({ message }) => message).join()).toContain('of the underside');
        expect(checkPlan(jobOf(by, 'bottom', seenFromBelow(defect, by), false), plan).passed).toBe(true);
      }),
      { numRuns: 30 },
    );
  });

  it('is named where it costs a top, and the order of work sends to look where nobody did', async () => {
    // Holes in a row from end to end: no strip of that depth is left beside them.
    const holes = rectangle<'face'>(20, 230, 2580, 250);
    const highs = await loadHighs();
    const plans = (through: Through) =>
      proposePlans(
        jobOf(tie, 'bottom', seenFromBelow({ kind: 'void', polygon: holes }, tie), through),
        new Map(),
        highs,
        unwatched(),
      );
    const [missed] = await plans(undefined);
    expect(missed?.misses[0]?.limit).toBe('defect');
    expect(missed?.misses[0]?.message).toContain("void a′ of Slab 1's underside, of which nobody said");
    const [had] = await plans(false);
    expect(had?.misses).toEqual([]);

    const corner = seenFromBelow({ kind: 'void', polygon: rectangle<'face'>(2300, 40, 2340, 80) }, tie);
    const job = jobOf(tie, 'bottom', corner, undefined);
    const [plan] = await proposePlans(job, new Map(), highs, unwatched());
    if (!plan) throw new Error('There is room beside a small hole.');
    const steps = planReport(job, plan).order.map(({ step, detail }) => `${step} ${detail}`);
    expect(steps.some((words) => words.startsWith('Turn the slabs over') && words.includes('void a′'))).toBe(true);
  });
});
