import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { levelsAt } from '../../src/flattening/levels';
import { bestSkips } from '../../src/flattening/skip-search';
import { runs } from '../support/runs';

/** The search for the board that may miss a share of a face, against plain enumeration. */

const SHARES = [0, 0.02, 0.05, 0.1, 0.2];

/** 5 x 8 places of 1,600 x 400 mm, heights in tenths of a mm. */
const heights = fc.array(fc.integer({ min: -60, max: 60 }), { minLength: 40, maxLength: 40 });
const problemOf = (top: readonly number[], bottom: readonly number[]) => {
  const x = Float64Array.from(top, (_, i) => 200 * (i % 8) - 700);
  const y = Float64Array.from(top, (_, i) => 100 * Math.floor(i / 8) - 200);
  const of = (tenths: readonly number[], level: number) => Float64Array.from(tenths, (z) => level + z / 10);
  return {
    x,
    y,
    z: of(top, 54),
    weights: Float64Array.from(top, () => 1 / top.length),
    other: { x, y, z: of(bottom, 0) },
  };
};

/** Thickness at one tilt by its definition: sort, drop the share, measure. */
function thicknessAt({ x, y, z, other }: ReturnType<typeof problemOf>, share: number, a: number, b: number): number {
  const up = Array.from(z, (u, i) => u - a * (x[i] as number) - b * (y[i] as number)).sort((p, q) => p - q);
  const low = Math.max(...Array.from(other.z, (v, i) => v - a * (x[i] as number) - b * (y[i] as number)));
  return ((up[Math.floor(share * up.length + 1e-9)] as number) - low) / Math.hypot(a, b, 1);
}

describe('the board that may miss a share of a face', () => {
  it('is had at its tilt, and no tilt of a fine grid gives more than is proven', () => {
    fc.assert(
      fc.property(heights, heights, (top, bottom) => {
        const problem = problemOf(top, bottom);
        const found = bestSkips(problem, SHARES, [[0, 0]]);
        found.forEach(({ a, b, thickness, most }, s) => {
          const share = SHARES[s] as number;
          expect(thickness).toBeCloseTo(thicknessAt(problem, share, a, b), 9);
          expect(most - thickness).toBeLessThan(0.021);
          for (let i = -20; i <= 20; i++) {
            for (let k = -20; k <= 20; k++) {
              expect(thicknessAt(problem, share, i * 0.0006, k * 0.003)).toBeLessThanOrEqual(most + 1e-9);
            }
          }
        });
      }),
      { numRuns: runs(12) },
    );
  });

  it('gains with every further share', () => {
    fc.assert(
      fc.property(heights, heights, (top, bottom) => {
        const found = bestSkips(problemOf(top, bottom), SHARES, []);
        found.slice(1).forEach(({ most }, i) => {
          expect(most).toBeGreaterThanOrEqual((found[i]?.thickness as number) - 1e-9);
        });
      }),
      { numRuns: 20 },
    );
  });
});

describe('levels', () => {
  it('are those of a plain sort, whatever the order, ties and weights', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -9, max: 9 }), fc.integer({ min: 1, max: 5 })), {
          minLength: 1,
          maxLength: 60,
        }),
        fc.infiniteStream(fc.nat()),
        (pairs, chance) => {
          const total = pairs.reduce((sum, [, w]) => sum + w, 0);
          const values = Float64Array.from(pairs, ([v]) => v);
          const weights = Float64Array.from(pairs, ([, w]) => w / total);
          const order = Uint32Array.from(pairs.keys()).sort(() => (chance.next().value % 3) - 1);
          const shares = [0, 0.1, 0.35, 0.8];
          const sorted = [...pairs].sort(([p], [q]) => p - q);
          const expected = shares.map((share) => {
            let under = 0;
            for (const [v, w] of sorted) {
              if (under + w / total > share + 1e-9) return v;
              under += w / total;
            }
            return sorted.at(-1)?.[0];
          });
          expect(levelsAt(values, weights, shares, order)).toEqual(expected);
        },
      ),
    );
  });
});
