/** A plain top with one crack, and what the tests of its keys measure with. */

import { expect } from 'vitest';
import { difference, offset, type Polygon, regionArea, ringArea } from '../../src/geometry';
import { checked } from '../../src/job';
import { checkKeys, type Key, type KeysOutput, keysInput, placeKeys } from '../../src/keys';

export const FLARE = Math.tan((14.5 * Math.PI) / 180);
export const size = (id: string, length: number, depths: number[]) => ({
  id,
  length,
  waist: 0.3 * length,
  end: 0.3 * length + length * FLARE,
  depths,
});
export const medium = size('medium', 70, [10, 14, 18]);
export const outline = [
  [0, 0],
  [2200, 0],
  [2200, 640],
  [0, 640],
];
export const base = {
  top: { outline, thickness: 38 },
  cracks: [
    {
      line: [
        [500, 300, 3],
        [1100, 300, 1],
      ],
      faces: 'top',
    },
  ],
  sizes: [medium],
  species: 'walnut_black',
};
export const place = (part: object = {}): KeysOutput => placeKeys(checked(keysInput, { ...base, ...part }));
export const crack = (...line: [number, number, number][]) => ({ line, faces: 'top' });
export type Ring = Polygon<'top'>;

/** Area of what lies in `a` and in none of `b`. */
export const outside = (a: Ring, ...b: Ring[]) =>
  difference(
    [{ outer: a, holes: [] }],
    b.map((outer) => ({ outer, holes: [] })),
  ).reduce((sum, region) => sum + regionArea(region), 0);
export const overlap = (a: Ring, b: Ring) => ringArea(a) - outside(a, b);
export const grown = (ring: Ring, by: number): Ring => offset([{ outer: ring, holes: [] }], by)[0]?.outer as Ring;

export const alongOf = (keys: readonly Key[], of = 0, face = 'top') =>
  keys.filter((key) => key.crack === of && key.face === face).map(({ along }) => along);

/** Placed, and passed by the independent check. */
export const checkedPlace = (part: object) => {
  const found = place(part);
  const faults = checkKeys(checked(keysInput, { ...base, ...part }), found);
  expect(faults).toEqual([]);
  return found;
};
