import fc from 'fast-check';
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { bounds, intersection, regionsArea, ribbon } from '../../src/geometry';
import type { Job, Plan } from '../../src/job';
import { proposePlans, stripInTop } from '../../src/layout';
import { checkPlan, planReport } from '../../src/plan';
import { unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

const highs = await loadHighs();
const plansOf = (job: Job): Promise<Plan[]> => proposePlans(job, new Map(), highs, unwatched());

/** A wide slab with a crack along its middle. */
function cracked(line: [number, number, number][], permit: 'avoid' | 'keyed', seams = 1): Job {
  const job = wavyJob([{ length: 1700, width: 620, swing: 3 }], {
    length: 1400,
    depth: [480, 520],
    front: 'straight',
    thickness: 30,
    seams,
  });
  const face = job.flitches.log?.slabs['slab-1']?.faces.top;
  if (face) face.defects = { d1: { id: 'd1', kind: 'crack', line, permit } };
  return job;
}

const regluedOf = (plans: readonly Plan[]) =>
  plans.flatMap(({ placements }) => placements.counter ?? []).filter(({ joints }) => joints[0]?.made === 'reglued');

describe('a crack ripped out', () => {
  const crack = fc.record({
    y: fc.integer({ min: 250, max: 370 }),
    slope: fc.double({ min: -0.04, max: 0.04, noNaN: true }),
    width: fc.integer({ min: 1, max: 8 }),
    permit: fc.constantFrom('avoid' as const, 'keyed' as const),
  });

  it('is in no finished strip, whose depths add up to that of the top and between which all of it and the saw have room', async () => {
    await fc.assert(
      fc.asyncProperty(crack, async ({ y, slope, width, permit }) => {
        const line = [300, 700, 1250].map((x): [number, number, number] => [x, y + slope * (x - 800), width]);
        const job = cracked(line, permit);
        const plans = await plansOf(job);
        const placed = regluedOf(plans);
        expect(placed.length).toBeGreaterThan(0);
        for (const { strips, joints, depth } of placed) {
          expect(joints[0]?.ripped).toBe('d1');
          const wood = strips.map(({ finished }) => ({ outer: finished, holes: [] }));
          expect(regionsArea(intersection(wood, [{ outer: ribbon<'face'>(line), holes: [] }]))).toBeLessThan(0.01);
          const deep = strips.map((strip) => bounds(stripInTop(strip))).map(({ minY, maxY }) => maxY - minY);
          expect(deep.reduce((a, b) => a + b, 0)).toBeCloseTo(depth[1], 2);
        }
        for (const plan of plans) expect(checkPlan(job, plan).faults).toEqual([]);
      }),
      { numRuns: runs(3) },
    );
  }, 120_000);

  it('stands beside a plan that keeps the crack and keys it', async () => {
    const job = cracked(
      [
        [300, 310, 3],
        [1250, 318, 3],
      ],
      'keyed',
    );
    const plans = await plansOf(job);
    expect(regluedOf(plans).length).toBeGreaterThan(0);
    const keyed = plans.filter((plan) => (planReport(job, plan).tops[0]?.cracks.length ?? 0) > 0);
    expect(keyed.length).toBeGreaterThan(0);
    const reglued = plans.find(({ placements }) => placements.counter?.joints[0]?.made === 'reglued') as Plan;
    const report = planReport(job, reglued);
    expect(report.tops[0]?.cracks).toEqual([]);
    expect(report.order.map(({ step }) => step)).toContain('Rip out the crack');
  });

  it('is the only way to a top that the crack would be in, where it must be kept off', async () => {
    const line: [number, number, number][] = [
      [50, 310, 3],
      [1650, 314, 3],
    ];
    const placed = regluedOf(await plansOf(cracked(line, 'avoid')));
    expect(placed.length).toBeGreaterThan(0);
    const [missed] = await plansOf(cracked(line, 'avoid', 0));
    expect(missed?.placements).toEqual({});
  });

  it('may be the pith', async () => {
    const job = cracked([], 'keyed');
    const face = job.flitches.log?.slabs['slab-1']?.faces.top;
    if (face)
      Object.assign(face, {
        defects: {},
        pith: [
          [0, 305],
          [1700, 312],
        ],
      });
    expect(regluedOf(await plansOf(job)).map(({ joints }) => joints[0]?.ripped)).toContain('pith');
  });

  it('that is still in the top would be found by the checker', async () => {
    const line: [number, number, number][] = [
      [300, 310, 3],
      [1250, 318, 3],
    ];
    const job = cracked(line, 'keyed');
    const plan = (await plansOf(job)).find(
      ({ placements }) => placements.counter?.joints[0]?.made === 'reglued',
    ) as Plan;
    const face = job.flitches.log?.slabs['slab-1']?.faces.top;
    if (face?.defects.d1) face.defects.d1.line = line.map(([x, y, w]) => [x, y + 40, w]);
    expect(checkPlan(job, plan).faults.map(({ rule }) => rule)).toContain('reglue');
  });
});

describe('a crack ripped out of one of several slabs', () => {
  it('is offered for a top that is deeper than the slab, with the next slab seamed on behind', async () => {
    const line = [300, 700, 1250].map((x): [number, number, number] => [x, 200 + 0.01 * (x - 800), 3]);
    const shape = { length: 1700, width: 420, swing: 3 };
    const job = wavyJob([shape, shape], {
      length: 1400,
      depth: [560, 600],
      front: 'straight',
      thickness: 30,
      seams: 2,
      leastStrip: 80,
    });
    const face = job.flitches.log?.slabs['slab-1']?.faces.top;
    if (face) face.defects = { d1: { id: 'd1', kind: 'crack', line, permit: 'keyed' } };
    const plans = await plansOf(job);
    const several = regluedOf(plans).filter(({ strips }) => new Set(strips.map(({ slab }) => slab)).size > 1);
    expect(several.length).toBeGreaterThan(0);
    for (const { strips, joints } of several) {
      expect(strips).toHaveLength(3);
      expect(joints.map(({ made }) => made)).toEqual(['reglued', undefined]);
      const wood = strips.slice(0, 2).map(({ finished }) => ({ outer: finished, holes: [] }));
      expect(regionsArea(intersection(wood, [{ outer: ribbon<'face'>(line), holes: [] }]))).toBeLessThan(0.01);
    }
    for (const plan of plans) expect(checkPlan(job, plan).faults).toEqual([]);
  }, 60_000);
});
