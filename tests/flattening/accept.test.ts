import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Spot3 } from '../../src/surface';
import { blank, blankA, face, run } from './blanks';

describe('accepted skips', () => {
  it('begin at none with the thickest board, and only gain', () => {
    fc.assert(
      fc.property(face(54), face(0), blank, (u, v, polygon) => {
        const flat = run(u, v, polygon);
        for (const side of ['top', 'bottom']) {
          const curve = flat.accept.filter((point) => point.face === side);
          expect(curve[0]).toMatchObject({ skip: 0, thickest: expect.closeTo(flat.thickest, 6) });
          curve.slice(1).forEach((point, i) => {
            expect(point.skip).toBeGreaterThan(curve[i]?.skip as number);
            expect(point.thickest).toBeGreaterThan(curve[i]?.thickest as number);
            expect(point.skip).toBeLessThanOrEqual(0.1);
          });
        }
      }),
      { numRuns: 15 },
    );
  });

  it('gain by a missing corner what it costs: a dent of 6 mm at one corner is given up for a hundredth of the face', () => {
    const grid = (z: (x: number, y: number) => number): Spot3[] =>
      Array.from({ length: 21 * 11 }, (_, k) => {
        const [x, y] = [-1000 + 100 * (k % 21), -200 + 40 * Math.floor(k / 21)];
        return [x, y, z(x, y)];
      });
    const dented = grid((x, y) => (x === 1000 && y === 200 ? 48 : 54));
    const flat = run(
      dented,
      grid(() => 0),
      blankA,
    );
    expect(flat.thickest).toBeLessThan(51.1);
    const best = flat.accept.filter(({ face: side, skip }) => side === 'top' && skip <= 0.01).at(-1);
    // The dent reaches one reading's box each way: half of 100 x 40 of 800,000 mm2.
    expect(best?.thickest).toBeCloseTo(54, 1);
  });
});
