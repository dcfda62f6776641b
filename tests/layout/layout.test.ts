import fc from 'fast-check';
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { bounds, ringArea } from '../../src/geometry';
import { cutsOf, leftOver, offcutsOf, proposePlans } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

const highs = await loadHighs();
const propose = (job: Parameters<typeof proposePlans>[0]) => proposePlans(job, new Map(), highs, unwatched());

describe('a top of one piece', () => {
  it('is cut from a slab that is wide enough, and passes the independent checker', async () => {
    const job = wavyJob([{ length: 2600, width: 700, swing: 10 }], { length: 2200, depth: [600, 650], thickness: 38 });
    const [plan] = await propose(job);
    expect(plan?.misses).toEqual([]);
    const placement = plan?.placements.counter;
    expect(placement?.strips).toHaveLength(1);
    expect(placement?.depth[0]).toBeGreaterThanOrEqual(600);
    expect(placement?.depth[1]).toBeLessThanOrEqual(650);
    // 50 mm of flat slab less 3 + 1 + 1 of reserves; the readings' own doubt may only take from it.
    expect(placement?.thickness).toBeLessThanOrEqual(45.001);
    expect(placement?.thickness).toBeGreaterThan(43);
    expect(checkPlan(job, plan as NonNullable<typeof plan>)).toEqual({ passed: true, faults: [] });
  });

  it('keeps off a defect that must be avoided, and uses its place once it is allowed', async () => {
    const job = wavyJob([{ length: 2300, width: 640, swing: 4 }], { length: 2200, depth: [590, 630], seams: 0 });
    const slab = job.flitches.log?.slabs['slab-1'];
    const rot = {
      id: 'd1',
      kind: 'rot' as const,
      polygon: [
        [1100, 300],
        [1160, 300],
        [1160, 340],
        [1100, 340],
      ] as const,
      permit: 'avoid' as const,
    };
    const spoilt = structuredClone(job);
    const face = spoilt.flitches.log?.slabs['slab-1']?.faces.top;
    if (face) face.defects = { d1: { ...rot, polygon: rot.polygon.map((p) => [...p] as [number, number]) } };
    expect(slab).toBeDefined();
    const [missing] = await propose(spoilt);
    expect(missing?.placements).toEqual({});
    expect(missing?.misses[0]).toMatchObject({ limit: 'defect' });
    if (face?.defects.d1) face.defects.d1.permit = 'allow';
    const [allowed] = await propose(spoilt);
    expect(allowed?.placements.counter).toBeDefined();
  });
});

describe('a top too deep for one slab', () => {
  it('is seamed from two, each joint line as long as the top', async () => {
    const job = wavyJob(
      [
        { length: 2600, width: 480, swing: 12 },
        { length: 2500, width: 460, swing: 9 },
      ],
      { length: 2200, depth: [610, 660] },
    );
    const plans = await propose(job);
    expect(plans.length).toBeGreaterThan(1);
    for (const plan of plans) {
      expect(checkPlan(job, plan)).toEqual({ passed: true, faults: [] });
      const [front, back] = plan.placements.counter?.strips ?? [];
      expect(front?.slab).not.toBe(back?.slab);
    }
  });
});

describe('what cannot be had says which limit binds and by how much', () => {
  const slab = { length: 2000, width: 500, swing: 5 };
  it.each([
    ['length', { length: 2200 }, 206],
    ['depth', { length: 1800, depth: [1100, 1200] as [number, number] }, 120],
    ['seams', { length: 1800, depth: [700, 760] as [number, number], seams: 0 }, 210],
    ['thickness', { length: 1800, depth: [400, 440] as [number, number], seams: 0, thickness: 47 }, 2],
  ])('%s', async (limit, top, by) => {
    const job = wavyJob([slab, slab], top);
    const plans = await propose(job);
    const miss = plans.at(-1)?.misses[0];
    expect(miss?.limit).toBe(limit);
    expect(Math.abs((miss?.by ?? 0) - by)).toBeLessThan(limit === 'thickness' ? 2.5 : 20);
    expect(miss?.message).toMatch(/\d/);
  });
});

describe('areas', () => {
  it('add up to the slab, whatever is sawn from it', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 700, max: 1600 }),
        fc.integer({ min: 200, max: 380 }),
        fc.integer({ min: 0, max: 15 }),
        async (length, depth, swing) => {
          const job = wavyJob([{ length: 2400, width: 520, swing }], {
            length,
            depth: [depth, depth + 45],
            thickness: 30,
            seams: 0,
          });
          const [plan] = await propose(job);
          const strips = plan?.placements.counter?.strips ?? [];
          expect(strips).toHaveLength(1);
          const outline = job.flitches.log?.slabs['slab-1']?.faces.top.outline;
          if (!outline) throw new Error('no outline');
          const left = leftOver(outline, strips, cutsOf(outline, strips, job.shop), []);
          const { areas } = left;
          expect(areas.parts).toBeCloseTo(ringArea(strips[0]?.finished ?? []), 3);
          expect(areas.parts + areas.kerf + areas.offcuts + areas.waste).toBeCloseTo(areas.stock, 3);
          // Waste is what the allowances take and the crumbs: it can never be less than nothing.
          expect(areas.waste).toBeGreaterThan(0);
          for (const { pieces, polygon } of offcutsOf(left, [], job.shop.kerf.rip)) {
            const [inner, outer] = [bounds(pieces.flatMap((piece) => piece.polygon)), bounds(polygon)];
            expect(inner.minX).toBeGreaterThanOrEqual(outer.minX - 0.01);
            expect(inner.maxY).toBeLessThanOrEqual(outer.maxY + 0.01);
          }
        },
      ),
      { numRuns: runs(12) },
    );
  });
});
