import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bounds, type Point, type Polygon, rectangle, ringArea } from '../../src/geometry';
import type { Job, Placement, Top } from '../../src/job';
import { topOutline } from '../../src/layout';
import { edgeOver, swingOf } from '../../src/layout/live-edge';
import { checkPlan } from '../../src/plan';
import { onlyTop, placesOf, planWith } from '../support/places';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

const WIDE = { length: 2600, width: 900, swing: 12, thickness: 54 };
const PAIR = [
  { length: 2600, width: 480, swing: 12, thickness: 54 },
  { length: 2500, width: 460, swing: 9, thickness: 54 },
];

const jobWith = (top: Partial<Top>, slabs = [WIDE]): Job =>
  wavyJob(slabs, { length: 2000, depth: [600, 660], thickness: 38, seams: 0, ...top });

function placed(job: Job): Placement {
  const [one] = placesOf(job).fit;
  if (!one) throw new Error('The slab gives it.');
  return one.placement;
}

const faultsOf = (job: Job, placement: Placement) =>
  checkPlan(job, planWith(placement)).faults.map(({ rule }) => rule as string);
const changed = (job: Job, top: Partial<Top>): Job => ({
  ...job,
  tops: { counter: { ...onlyTop(job), ...top } },
});
const end = (degrees: number) => ({ edge: 'straight' as const, degrees, short: 40 });

/** The angle inside a ring at its corner nearest to a point, degrees. */
function angleAt(ring: Polygon<'top'>, [x, y]: Point<'top'>): number {
  const off = ring.map((p) => Math.hypot(p[0] - x, p[1] - y));
  const i = off.indexOf(Math.min(...off));
  const [p, a, b] = [0, 1, ring.length - 1].map((k) => ring[(i + k) % ring.length] as Point<'top'>);
  if (!p || !a || !b) throw new Error('A ring has corners.');
  const turn = Math.atan2(a[1] - p[1], a[0] - p[0]) - Math.atan2(b[1] - p[1], b[0] - p[0]);
  const degrees = Math.abs((turn * 180) / Math.PI);
  return degrees > 180 ? 360 - degrees : degrees;
}

describe('an end at an angle', () => {
  it('is cut at that angle to the front, the longer side as long as the top; another angle is a fault', () => {
    fc.assert(
      fc.property(fc.integer({ min: 35, max: 145 }), fc.integer({ min: 35, max: 145 }), (right, left) => {
        const job = jobWith({ front: 'straight', ends: { right: end(right), left: end(left) } });
        const placement = placed(job);
        const outline = topOutline(placement);
        const back = placement.depth[1];
        const cot = (degrees: number) => 1 / Math.tan((degrees * Math.PI) / 180);
        // Front corners: of a sharp end at the top's own end, of a blunt one stood in by the depth times its cotangent.
        const atFront: Point<'top'> = [right <= 90 ? 0 : -back * cot(right), 0];
        expect(angleAt(outline, atFront)).toBeCloseTo(right, 1);
        expect(angleAt(outline, [2000 - (left <= 90 ? 0 : -back * cot(left)), 0])).toBeCloseTo(left, 1);
        const { minX, maxX } = bounds(outline);
        expect(minX).toBeCloseTo(0, 2);
        expect(maxX).toBeCloseTo(2000, 2);
        expect(faultsOf(job, placement)).toEqual([]);
        const other = changed(job, { ends: { right: end(right + 1), left: end(left) } });
        expect(faultsOf(other, placement)).toContain('end');
      }),
      { numRuns: runs(12) },
    );
  });

  it('is cut on both strips of a seamed top, and its live band is held where it has a front', () => {
    const job = jobWith(
      { depth: [640, 690], seams: 1, ends: { right: end(135), left: end(60) }, leastStrip: 150 },
      PAIR,
    );
    const { fit } = placesOf(job);
    expect(fit.length).toBeGreaterThan(0);
    for (const { placement } of fit) {
      expect(placement.strips).toHaveLength(2);
      expect(faultsOf(job, placement)).toEqual([]);
      // A square end that slants is wood missing there, by whichever rule.
      expect(faultsOf(changed(job, { ends: { right: end(90), left: end(60) } }), placement)).not.toEqual([]);
    }
  });
});

describe('wood kept for scribing', () => {
  it('is over the finished size at the back and the ends, and the finished depth is what was wanted', () => {
    const some = fc.integer({ min: 0, max: 25 });
    fc.assert(
      fc.property(some, some, some, some, (back, right, left, wallBow) => {
        const scribe = { back, right, left };
        const job = jobWith({ scribe, wallBow });
        const placement = placed(job);
        const { minX, maxX, maxY } = bounds(topOutline(placement));
        expect(minX).toBeCloseTo(-right, 2);
        expect(maxX).toBeCloseTo(2000 + left, 2);
        expect(maxY).toBeCloseTo(placement.depth[1] + back + wallBow, 2);
        expect(placement.depth[0]).toBeGreaterThanOrEqual(600 - 0.01);
        expect(placement.depth[1]).toBeLessThanOrEqual(660 + 0.01);
        expect(faultsOf(job, placement)).toEqual([]);
        expect(faultsOf(changed(job, { scribe: { ...scribe, back: back + 1 } }), placement)).toContain('depth');
        expect(faultsOf(changed(job, { scribe: { ...scribe, left: left + 1 } }), placement).join()).toMatch(
          /end|length/,
        );
      }),
      { numRuns: runs(12) },
    );
  });
});

describe('how far a live edge swings', () => {
  const line = fc
    .array(fc.tuple(fc.integer({ min: 20, max: 400 }), fc.integer({ min: 0, max: 60 })), {
      minLength: 2,
      maxLength: 12,
    })
    .map((steps) => {
      let x = 0;
      return steps.map(([dx, y]): Point<'top'> => {
        x += dx;
        return [x, y];
      });
    });

  it('is the most by which two places no farther apart differ', () => {
    fc.assert(
      fc.property(line, fc.integer({ min: 50, max: 900 }), (edge, within) => {
        const at = (x: number): number => {
          const i = Math.max(
            1,
            edge.findIndex((p) => p[0] >= x),
          );
          const [p, q] = [edge[i - 1] as Point<'top'>, edge[i] as Point<'top'>];
          return p[1] + ((x - p[0]) / (q[0] - p[0])) * (q[1] - p[1]);
        };
        const [from, to] = [(edge[0] as Point<'top'>)[0], (edge.at(-1) as Point<'top'>)[0]];
        let most = 0;
        for (let x = from; x <= to; x += 7)
          for (let u = x; u <= Math.min(to, x + within); u += 7) most = Math.max(most, Math.abs(at(u) - at(x)));
        const exact = swingOf(edge, within);
        expect(exact).toBeGreaterThanOrEqual(most - 1e-6);
        // Seven millimetres on either side of a sample the line cannot have gone farther than its steepest piece.
        const steep = Math.max(
          ...edge
            .slice(1)
            .map((q, i) => Math.abs((q[1] - (edge[i] as Point<'top'>)[1]) / (q[0] - (edge[i] as Point<'top'>)[0]))),
        );
        expect(exact).toBeLessThanOrEqual(most + 14 * steep + 1e-6);
      }),
    );
  });

  it('refuses a place exactly when it is more than is allowed, and so does the checker', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 25 }), (swing) => {
        const job = jobWith({ front: 'live' }, [{ ...WIDE, swing }]);
        const placement = placed(job);
        const [strip] = placement.strips;
        if (!strip) throw new Error('One piece.');
        const most = swingOf(edgeOver(topOutline(placement), -1), 500);
        expect(most).toBeGreaterThan(0);
        const just = changed(job, { swing: most + 0.01 });
        const less = changed(job, { swing: most - 0.1 });
        expect(faultsOf(just, placement)).toEqual([]);
        expect(faultsOf(less, placement)).toEqual(['swing']);
        // The same place, asked of the search.
        const same = (one: Placement) => one.strips[0]?.toTop.join() === strip.toTop.join();
        expect(placesOf(just).fit.some((one) => same(one.placement))).toBe(true);
        expect(placesOf(less).fit.some((one) => same(one.placement))).toBe(false);
      }),
      { numRuns: runs(6) },
    );
  });
});

describe('a zone in which no seam may run', () => {
  it('is crossed by no seam; one drawn over a seam is a fault by its own rule', () => {
    const job = jobWith({ front: 'straight', depth: [640, 640], seams: 1, leastStrip: 120 }, PAIR);
    const seamOf = (placement: Placement): number => {
      const [strip] = placement.strips;
      if (!strip?.jointBack) throw new Error('It is seamed.');
      const [a, , , , , f] = strip.toTop;
      return strip.toTop[1] * strip.jointBack[0][0] + a * strip.jointBack[0][1] + f;
    };
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 400 }), fc.integer({ min: 20, max: 200 }), (from, wide) => {
        const zone = { id: 'divider', polygon: rectangle<'top'>(500, from, 700, from + wide) };
        const zoned = changed(job, { noSeam: { divider: zone } });
        const { fit } = placesOf(zoned);
        for (const { placement } of fit) {
          const y = seamOf(placement);
          expect(y <= from + 0.01 || y >= from + wide - 0.01).toBe(true);
          expect(faultsOf(zoned, placement)).toEqual([]);
          const over = { id: 'over', polygon: rectangle<'top'>(500, y - 10, 700, y + 10) };
          expect(faultsOf(changed(job, { noSeam: { over } }), placement)).toEqual(['zone']);
        }
        expect(fit.length).toBeGreaterThan(0);
      }),
      { numRuns: runs(8) },
    );
  });
});

describe('a top with a shape of its own', () => {
  it('round: its finished area is that of the circle, to what its chords cut off, in one piece or two', () => {
    fc.assert(
      fc.property(fc.integer({ min: 400, max: 850 }), (diameter) => {
        const job = jobWith({ shape: { kind: 'round' }, length: diameter });
        const placement = placed(job);
        const circle = (Math.PI * diameter ** 2) / 4;
        const area = placement.strips.reduce((sum, { finished }) => sum + ringArea(finished), 0);
        // A chord stands off by 0.02 mm at most, so the ring lies outside the circle with a radius smaller by that.
        expect(area).toBeLessThanOrEqual(circle);
        expect(area).toBeGreaterThan((Math.PI * (diameter - 0.05) ** 2) / 4);
        expect(faultsOf(job, placement)).toEqual([]);
        expect(faultsOf(changed(job, { length: diameter - 2 }), placement)).toContain('shape');
      }),
      { numRuns: runs(8) },
    );
    const seamedJob = jobWith({ shape: { kind: 'round' }, length: 800, seams: 1 }, PAIR);
    const { fit } = placesOf(seamedJob);
    expect(fit.length).toBeGreaterThan(0);
    for (const { placement } of fit) {
      expect(ringArea(topOutline(placement))).toBeGreaterThan((Math.PI * 799.95 ** 2) / 4);
      expect(faultsOf(seamedJob, placement)).toEqual([]);
    }
  });

  it('oval and drawn: the whole shape is wood, wherever its drawing began', () => {
    const oval = jobWith({ shape: { kind: 'oval' }, length: 1500, depth: [700, 700] });
    expect(faultsOf(oval, placed(oval))).toEqual([]);
    const area = ringArea(topOutline(placed(oval)));
    expect(area).toBeCloseTo((Math.PI * 1500 * 700) / 4, -3);
    fc.assert(
      fc.property(fc.integer({ min: -500, max: 500 }), fc.integer({ min: -500, max: 500 }), (dx, dy) => {
        const corners = [
          [0, 0],
          [1400, 0],
          [1400, 300],
          [900, 700],
          [0, 700],
        ] as const;
        const outline = corners.map(([x, y]): Point<'top'> => [x + dx, y + dy]);
        const job = jobWith({ shape: { kind: 'polygon', outline } });
        const placement = placed(job);
        expect(ringArea(topOutline(placement))).toBeCloseTo(ringArea(outline), 0);
        expect(faultsOf(job, placement)).toEqual([]);
      }),
      { numRuns: runs(5) },
    );
  });
});

describe('a hole for a sink', () => {
  it('keeps its strips of wood to every edge, and the checker measures them', () => {
    const hole = (y: number, keep: number) => ({
      sink: { id: 'sink', name: 'Sink', polygon: rectangle<'top'>(700, y, 1260, y + 420), keep, seam: true },
    });
    fc.assert(
      fc.property(fc.integer({ min: 40, max: 150 }), fc.integer({ min: 20, max: 120 }), (y, keep) => {
        const job = jobWith({ front: 'straight', depth: [640, 640], cutOuts: hole(y, keep) });
        const left = Math.min(y, 640 - y - 420);
        const { fit, unfit } = placesOf(job);
        expect(fit.length > 0).toBe(left >= keep);
        if (left < keep) {
          expect(unfit[0]?.why).toBe('cut-out');
          expect(unfit[0]?.by).toBeCloseTo(keep - left, 1);
          expect(faultsOf(job, placed(changed(job, { cutOuts: {} })))).toContain('cut-out');
        } else for (const { placement } of fit) expect(faultsOf(job, placement)).toEqual([]);
      }),
      { numRuns: runs(10) },
    );
  });
});
