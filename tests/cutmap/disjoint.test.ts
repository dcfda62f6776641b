import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typeface } from './invented';
import { inventedMaps, laidMaps, sheetFaults } from './random-maps';

describe('whole sheets of random plans', () => {
  it.each([
    ['laid by hand', laidMaps, 120],
    ['invented', inventedMaps, 80],
  ] as const)(
    'lay no text over another, paint none over, none under 2.5 mm, none outside the margins: %s',
    async (_, maps, slow) => {
      const face = await typeface();
      fc.assert(
        fc.property(maps, (map) => {
          expect(sheetFaults({ ...map, typeface: face, faces: new Map(), tops: new Map() })).toEqual([]);
        }),
        { numRuns: process.env.SLOW ? slow : 4, endOnFailure: true },
      );
    },
    process.env.SLOW ? 1_800_000 : undefined,
  );
});
