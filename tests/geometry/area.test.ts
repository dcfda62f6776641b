import { polygonArea } from 'd3-polygon';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Point, type Polygon, ringArea } from '../../src/geometry';

/** Rings as a trace gives them: star-shaped about a middle, hundreds of points, anywhere on the face. mm */
const ring = fc
  .record({
    radii: fc.array(fc.double({ min: 1, max: 2000, noNaN: true }), { minLength: 3, maxLength: 400 }),
    middle: fc.tuple(fc.integer({ min: -5000, max: 5000 }), fc.integer({ min: -5000, max: 5000 })),
  })
  .map(
    ({ radii, middle: [x, y] }): Polygon<'face'> =>
      radii.map((r, i): Point<'face'> => {
        const turn = (2 * Math.PI * i) / radii.length;
        return [x + r * Math.cos(turn), y + r * Math.sin(turn)];
      }),
  );

describe('the area of an outline', () => {
  it('is what an independent library says (d3-polygon 3.0.2)', () => {
    fc.assert(
      fc.property(ring, (outline) => {
        const theirs = Math.abs(polygonArea(outline.map(([x, y]) => [x, y])));
        expect(Math.abs(ringArea(outline) - theirs)).toBeLessThanOrEqual(1e-6 * Math.max(1, theirs));
      }),
    );
  });

  it('is the same from whichever corner the ring begins, and whichever way round it runs', () => {
    fc.assert(
      fc.property(ring, fc.nat(), (outline, shift) => {
        const at = shift % outline.length;
        const begun = [...outline.slice(at), ...outline.slice(0, at)];
        expect(ringArea(begun)).toBeCloseTo(ringArea(outline), 3);
        expect(ringArea([...outline].reverse())).toBeCloseTo(ringArea(outline), 3);
      }),
    );
  });
});
