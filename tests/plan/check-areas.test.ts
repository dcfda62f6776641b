import { polygonArea } from 'd3-polygon';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { centroid, type Polygon, rectangle, ringArea } from '../../src/geometry';
import { planReport, type SlabReport } from '../../src/plan';
import { checkSlabs } from '../../src/plan/check-areas';
import { laidPlans } from '../support/laid-plans';
import { runs } from '../support/runs';

/** Where a slab's area goes, against another library's areas, and spoilt figures and cuts. */

const RUNS = { numRuns: runs(12) };
const areaOf = (ring: Polygon<'face'>): number =>
  Math.abs(polygonArea(ring.map(([x, y]) => [x, y] as [number, number])));

/** The shares given, the first of them changed by a share of the stock. */
const spoilt = (slabs: readonly SlabReport[], change: (slab: SlabReport) => Partial<SlabReport>) =>
  checkSlabs(slabs.map((slab, i) => (i === 0 ? { ...slab, ...change(slab) } : slab))).map(({ rule }) => rule);

describe('areas', () => {
  it('are those of another library, add up, and nothing is less than nothing', () => {
    fc.assert(
      fc.property(laidPlans, ({ job, plan }) => {
        const { slabs, verdict } = planReport(job, plan);
        expect(verdict).toEqual({ passed: true, faults: [] });
        for (const { areas, blanks, outline, offcuts } of slabs) {
          expect(areas.stock).toBeCloseTo(areaOf(outline.outer), 3);
          const finished = blanks.map((blank) => blank.finished);
          expect(areas.parts).toBeCloseTo(
            finished.reduce((sum, ring) => sum + areaOf(ring), 0),
            3,
          );
          expect(areas.offcuts).toBeCloseTo(
            offcuts.reduce((sum, { polygon }) => sum + areaOf(polygon), 0),
            0,
          );
          for (const area of Object.values(areas)) expect(area).toBeGreaterThanOrEqual(0);
          const sum = areas.parts + areas.kerf + areas.offcuts + areas.waste;
          expect(Math.abs(sum - areas.stock)).toBeLessThan(1e-3 * areas.stock);
        }
      }),
      RUNS,
    );
  });

  it('ringArea is the area of d3-polygon on rings of any kind', () => {
    const points = fc.array(fc.tuple(fc.integer({ min: -3000, max: 3000 }), fc.integer({ min: -900, max: 900 })), {
      minLength: 3,
      maxLength: 40,
    });
    fc.assert(
      fc.property(points, (ring) => {
        expect(ringArea(ring)).toBeCloseTo(areaOf(ring), 6);
      }),
    );
  });

  it('a share that is off by 0.2 % of the slab is caught, by 0.05 % not', () => {
    fc.assert(
      fc.property(
        laidPlans,
        fc.constantFrom('stock' as const, 'parts' as const, 'kerf' as const, 'offcuts' as const, 'waste' as const),
        fc.constantFrom(1, -1),
        ({ job, plan }, share, sign) => {
          const { slabs } = planReport(job, plan);
          const changed = (by: number) =>
            spoilt(slabs, ({ areas }) => ({ areas: { ...areas, [share]: areas[share] + sign * by * areas.stock } }));
          expect(changed(0.002)).toContain('areas');
          expect(changed(0.0005)).toEqual([]);
        },
      ),
      RUNS,
    );
  });

  it('a cut that runs into a piece is caught, and an offcut that is sawn away', () => {
    fc.assert(
      fc.property(laidPlans, ({ job, plan }) => {
        const { slabs } = planReport(job, plan);
        const moved = (by: number) =>
          spoilt(slabs, ({ cuts, blanks }) => ({
            cuts: cuts.map((cut) => {
              if (cut.kind !== 'trim' || cut.blanks[0] !== blanks[0]?.id) return cut;
              const [a, b] = cut.line;
              const middle = centroid(blanks[0]?.finished ?? []);
              // Towards the middle of the piece.
              const [nx, ny] = [-(b[1] - a[1]), b[0] - a[0]];
              const to = Math.sign((middle[0] - a[0]) * nx + (middle[1] - a[1]) * ny) / Math.hypot(nx, ny);
              const shift = ([x, y]: readonly [number, number]) => [x + nx * to * by, y + ny * to * by] as const;
              return { ...cut, line: [shift(a), shift(b)] as const };
            }),
          }));
        expect(moved(0.3)).toContain('cuts');
        expect(moved(0)).toEqual([]);
        const [first] = slabs;
        if (!first?.offcuts[0]) return;
        const into = spoilt(slabs, ({ offcuts, blanks }) => ({
          offcuts: offcuts.map((offcut, i) => {
            const [x, y] = blanks[0]?.finished[0] ?? [0, 0];
            const polygon = rectangle<'face'>(x - 200, y - 200, x + 200, y + 200);
            return i === 0
              ? { ...offcut, pieces: [{ polygon, size: [400, 400] as const, degrees: 0, thickness: null }] }
              : offcut;
          }),
        }));
        expect(into).toContain('cuts');
      }),
      RUNS,
    );
  });
});
