import { assert, double, integer, property, record, tuple } from 'fast-check';
import { expect, it } from 'vitest';
import { distanceToRing, type Point, rectangle } from '../../src/geometry';
import { type Grid, maskOf, nearMask } from '../../src/raster';

const GRID: Grid = { width: 40, height: 30, mmPerPx: 0.8, x0: -3, y0: 5 };
const centre = (i: number): Point<'face'> => [
  GRID.x0 + ((i % GRID.width) + 0.5) * GRID.mmPerPx,
  GRID.y0 + (Math.floor(i / GRID.width) + 0.5) * GRID.mmPerPx,
];

it('pixels near a ring are those whose centres lie within reach of it', () => {
  // Corners beyond the picture too, doubled ones, and edges along rows and columns.
  const corner = tuple(integer({ min: -10, max: 40 }), integer({ min: -4, max: 38 }));
  const wish = record({
    ring: tuple(corner, corner, corner, corner),
    reach: double({ min: 0.3, max: 9, noNaN: true }),
  });
  assert(
    property(wish, ({ ring, reach }) => {
      const near = nearMask(GRID, [ring as Point<'face'>[]], reach);
      near.forEach((is, i) => {
        const off = distanceToRing(centre(i), ring as Point<'face'>[]);
        // On the very border rounding may say either.
        if (Math.abs(off - reach) > 1e-9) expect(is).toBe(off < reach ? 1 : 0);
      });
    }),
    { numRuns: 30 },
  );
});

it('a rectangle less what is near its ring is the rectangle inset', () => {
  const outer = rectangle<'face'>(0, 8, 22, 25);
  const inset = rectangle<'face'>(2.3, 10.3, 19.7, 22.7);
  const near = nearMask(GRID, [outer], 2.3);
  const left = maskOf(GRID, [{ outer, holes: [] }]).map((is, i) => (near[i] ? 0 : is));
  expect(left).toContain(1);
  expect(left).toEqual(maskOf(GRID, [{ outer: inset, holes: [] }]));
});
