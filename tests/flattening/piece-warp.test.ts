import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pieceWarp } from '../../src/flattening';
import { type Affine, rigid } from '../../src/geometry';
import { warpFaces } from '../../src/surface';

/** Bow, cup and twist of a piece cut from a slab of known warp (TRADE 5: bow goes with length2, cup with width2, twist with both). */
const slab = { length: 2600, width: 560, thickness: 54 };
const HERE: Affine<'top', 'face'> = { m: [1, 0, 0, 1, 0, 0] };
const warps = fc.record({
  bow: fc.double({ min: -12, max: 12, noNaN: true }),
  cup: fc.double({ min: -6, max: 6, noNaN: true }),
  twist: fc.double({ min: -9, max: 9, noNaN: true }),
});

describe('the warp of a piece', () => {
  it('of the whole slab is what was measured', () => {
    fc.assert(
      fc.property(warps, (warp) => {
        const found = pieceWarp(
          warpFaces({ ...slab, ...warp }),
          { minX: -1300, maxX: 1300, minY: -280, maxY: 280 },
          HERE,
        );
        // A straightedge laid along an edge of a twisted slab meets the bow alone: the twist is straight there.
        expect(found.bow).toBeCloseTo(warp.bow, 6);
        expect(found.cup).toBeCloseTo(warp.cup, 6);
        expect(found.twist).toBeCloseTo(warp.twist, 6);
      }),
    );
  });

  it('cut to 2,250 of 2,600 keeps 6.74 of 9 mm of bow and 2.60 of 3 of twist (TRADE 11 a)', () => {
    const faces = warpFaces({ ...slab, bow: 9, cup: 4, twist: 3 });
    const { bow, cup, twist } = pieceWarp(faces, { minX: -1125, maxX: 1125, minY: -280, maxY: 280 }, HERE);
    expect(bow).toBeCloseTo(6.74, 2);
    expect(cup).toBeCloseTo(4, 6);
    expect(twist).toBeCloseTo(2.6, 2);
  });

  it('does not depend on where the readings have their origin', () => {
    const faces = warpFaces({ ...slab, bow: 7, cup: -3, twist: 4 });
    const box = { minX: 0, maxX: 1100, minY: 0, maxY: 300 };
    const moved = pieceWarp(faces, box, rigid<'top', 'face'>(0, -900, -200));
    const same = pieceWarp(faces, { minX: -900, maxX: 200, minY: -200, maxY: 100 }, HERE);
    expect(moved.bow).toBeCloseTo(same.bow, 9);
    expect(moved.twist).toBeCloseTo(same.twist, 9);
  });
});
