import fc from 'fast-check';
import { type BlankFlattening, flatten, flattenInput } from '../../src/flattening';
import { type Polygon, rectangle } from '../../src/geometry';
import { checked } from '../../src/job';
import { linearSurface, type Spot3 } from '../../src/surface';

export const blankA: Polygon<'face'> = rectangle(-1000, -200, 1000, 200);

/** Heights in tenths of a mm on a 5 x 3 grid of 2,400 x 500, on top of a level. */
export const face = (level: number) =>
  fc
    .array(fc.integer({ min: -50, max: 50 }), { minLength: 15, maxLength: 15 })
    .map((tenths) =>
      tenths.map((z, k): Spot3 => [-1200 + 600 * (k % 5), -250 + 250 * Math.floor(k / 5), level + z / 10]),
    );
export const blank = fc
  .tuple(
    fc.integer({ min: -1150, max: 0 }),
    fc.integer({ min: -240, max: 0 }),
    fc.integer({ min: 150, max: 1150 }),
    fc.integer({ min: 100, max: 240 }),
  )
  .map(([x, y, length, width]) => rectangle<'face'>(x, y, x + length, y + width));

export const shop = {
  sled: { bit: 50, depth: 3, stepover: 0.5, feed: 75, lowest: 0 },
  sanding: 1,
  reserve: { second: 3, level: 1 },
};
export const run = (
  top: readonly Spot3[],
  bottom: readonly Spot3[],
  polygon: Polygon<'face'>,
  more: object = {},
): BlankFlattening => {
  const input = { surfaces: { top, bottom }, blanks: [{ id: 'a', polygon, ...more }], ...shop };
  return flatten(checked(flattenInput, input)).blanks[0] as BlankFlattening;
};
export const facesOf = (top: readonly Spot3[], bottom: readonly Spot3[]) => {
  const surface = (spots: readonly Spot3[]) => linearSurface(spots.map(([x, y, z]) => ({ at: [x, y], z, sigma: 0.2 })));
  return { top: surface(top), bottom: surface(bottom) };
};
export const mm = (flat: BlankFlattening, item: string): number =>
  flat.budget.find((entry) => entry.item === item)?.mm as number;
