import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  dryingCup,
  dryingOf,
  fixingOf,
  glueUp,
  logMiddle,
  movement,
  ringAngleDegrees,
  sectionStrain,
} from '../../src/wood';

const shrinking = fc.record({
  radial: fc.double({ min: -0.04, max: -0.005, noNaN: true }),
  extra: fc.double({ min: 0.002, max: 0.05, noNaN: true }),
});
const strainOf = ({ radial, extra }: { radial: number; extra: number }) => ({ radial, tangential: radial - extra });

describe('rings and drying', () => {
  test('rings lie flat straight over the pith and stand on edge beside it', () => {
    expect(ringAngleDegrees({ y: 0, z: 100 }, 0, -20)).toBe(0);
    expect(ringAngleDegrees({ y: 0, z: -20 }, 200, -20)).toBe(90);
    expect(ringAngleDegrees({ y: 0, z: 100 }, 100, 0)).toBeCloseTo(45, 12);
  });

  test('far from the pith a slab shrinks as flat-sawn, beside it as quarter-sawn (Wood Handbook Eq. 13-2 with Ct and Cr)', () => {
    const slab = { from: -150, to: 150, thickness: 50 };
    const strain = { radial: -0.01, tangential: -0.02 };
    const flat = sectionStrain(slab, { y: 0, z: 1e6 }, strain);
    expect(flat.width).toBeCloseTo(-0.02, 6);
    expect(flat.thickness).toBeCloseTo(-0.01, 6);
    const quarter = sectionStrain(slab, { y: 1e6, z: -25 }, strain);
    expect(quarter.width).toBeCloseTo(-0.01, 6);
    expect(quarter.thickness).toBeCloseTo(-0.02, 6);
  });

  test('wherever the pith lies, width and thickness together shrink by radial and tangential together', () => {
    fc.assert(
      fc.property(
        shrinking,
        fc.double({ min: -500, max: 500, noNaN: true }),
        fc.double({ min: -500, max: 500, noNaN: true }),
        (shrink, y, z) => {
          const strain = strainOf(shrink);
          const { width, thickness } = sectionStrain({ from: -200, to: 250, thickness: 54 }, { y, z }, strain);
          expect(width + thickness).toBeCloseTo(strain.radial + strain.tangential, 12);
          expect(width).toBeGreaterThanOrEqual(strain.tangential - 1e-12);
          expect(width).toBeLessThanOrEqual(strain.radial + 1e-12);
        },
      ),
    );
  });

  test('a drying slab goes hollow on the bark side (common practice, no source): away from the pith on either side of it', () => {
    fc.assert(
      fc.property(shrinking, fc.double({ min: 120, max: 600, noNaN: true }), (shrink, away) => {
        const slab = { from: -150, to: 150, thickness: 50 };
        const strain = strainOf(shrink);
        // The pith under the slab: its upper face is the bark's side, and edges that rise are a positive cup.
        const over = dryingCup(slab, { y: 0, z: -25 - away }, strain) as number;
        expect(over).toBeGreaterThan(0);
        expect(dryingCup(slab, { y: 0, z: -25 + away }, strain)).toBeCloseTo(-over, 9);
        // Taking up moisture bends it the other way.
        expect(dryingCup(slab, { y: 0, z: -25 - away }, { radial: 0.01, tangential: 0.02 })).toBeLessThan(0);
      }),
    );
  });

  test('a wide thin sector cups by (radial - tangential) half width2 / distance, to the first order (derived)', () => {
    const strain = { radial: -0.01, tangential: -0.02 };
    const cup = dryingCup({ from: -50, to: 50, thickness: 2 }, { y: 0, z: -1001 }, strain) as number;
    expect(cup).toBeCloseTo((0.01 * 50 ** 2) / 1000, 3);
  });

  test('rings that shrink alike both ways do not cup, and a slab that holds the pith is left unsaid', () => {
    const even = { radial: -0.02, tangential: -0.02 };
    expect(dryingCup({ from: -100, to: 100, thickness: 50 }, { y: 0, z: 300 }, even)).toBeCloseTo(0, 9);
    expect(dryingCup({ from: -100, to: 100, thickness: 50 }, { y: 0, z: -20 }, even)).toBeNull();
  });

  test('what is expected lies between both bounds, which are those of the handbook; the pith unknown, only they are told', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 6, max: 40, noNaN: true }),
        fc.double({ min: 6, max: 14, noNaN: true }),
        fc.double({ min: -400, max: 400, noNaN: true }),
        (from, to, z) => {
          const asked = { species: 'walnut_black', from, to, width: 500, thickness: 54 };
          const known = dryingOf({ ...asked, pith: { y: 240, z } });
          const unknown = dryingOf({ ...asked, pith: null });
          expect(known.width.expected).toBeGreaterThanOrEqual(known.width.least - 1e-9);
          expect(known.width.expected).toBeLessThanOrEqual(known.width.most + 1e-9);
          expect(unknown.width).toEqual({ expected: null, least: known.width.least, most: known.width.most });
          const { least } = movement({ species: 'walnut_black', width: 500, from, to, cut: 'through' });
          expect(known.width.least).toBeCloseTo(least, 9);
        },
      ),
    );
  });

  test('wet wood is warned of: green, over 20 %, and what is farther than 2 % from the site', () => {
    const warn = (from: number) =>
      dryingOf({ species: 'walnut_black', from, to: 8, width: 500, thickness: 54, pith: null }).warning;
    expect(warn(45)).toMatch(/green/);
    expect(warn(24)).toMatch(/fungi/);
    expect(warn(12)).toMatch(/lose 4\.0 %/);
    expect(warn(9.5)).toBeNull();
  });

  test('the middle of a log is found from the widths of its slabs', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 250, max: 500, noNaN: true }),
        fc.double({ min: -80, max: 80, noNaN: true }),
        (radius, middle) => {
          const slabs = [100, 43, -14, -71, -128].map((z) => ({
            z,
            width: 2 * Math.sqrt(radius ** 2 - (z - middle) ** 2),
          }));
          expect(logMiddle(slabs)).toBeCloseTo(middle, 6);
        },
      ),
    );
    expect(
      logMiddle([
        { z: 0, width: 500 },
        { z: -57, width: 500 },
      ]),
    ).toBeNull();
  });
});

describe('fixing', () => {
  const asked = { species: 'walnut_black', length: 2200, depth: 640, driest: 6, wettest: 11, screw: 5 };

  test('a 640 mm walnut counter fixed at the front sends 8.8 mm of 5 % to the wall (TRADE 11: 0.00274 x 5 x 640)', () => {
    const fixing = fixingOf({ ...asked, fast: 'front' });
    expect(fixing.season).toBeCloseTo(0.00274 * 5 * 640, 6);
    expect(fixing.season).toBeCloseTo(8.8, 1);
    expect(fixing.front + fixing.back).toBeCloseTo(fixing.season, 9);
  });

  test('slots lengthen with the distance from the fast row, which has none; 400 mm at 5 % need 5.5 mm and 1 over (glue_attach, derived)', () => {
    for (const fast of ['front', 'middle', 'back'] as const) {
      const { rows } = fixingOf({ ...asked, fast });
      const held = rows.find((row) => row.fast) as (typeof rows)[number];
      expect(rows.filter((row) => row.fast)).toHaveLength(1);
      expect(held.slot).toBe(5);
      for (const { at, fast: isFast, slot } of rows) {
        if (!isFast) expect(slot).toBeCloseTo(5 + 1 + Math.abs(at - held.at) * 0.00274 * 5, 6);
      }
    }
    const wide = fixingOf({ ...asked, depth: 500, fast: 'front' });
    expect((wide.rows.at(-1)?.slot ?? 0) - 6).toBeCloseTo(400 * 0.00274 * 5, 6);
  });

  test('a top in the middle moves both ways alike', () => {
    const { front, back } = fixingOf({ ...asked, fast: 'middle' });
    expect(front).toBeCloseTo(back, 9);
  });
});

describe('gluing up', () => {
  test('2,250 x 40 mm asks for 108 kN in hardwood (TRADE 11), by far more clamps than spacing does', () => {
    const glue = glueUp({ kind: 'hardwood', length: 2250, thickness: 40, headToJoint: 300, perClamp: 4500 });
    expect(glue.force).toBeCloseTo(108_000, 6);
    expect(glue).toMatchObject({ bySpacing: 4, byPressure: 24, count: 24, spacing: 600 });
    expect(glue.reached).toBeCloseTo((4 * 4500) / (2250 * 40), 9);
    expect(glue.grams).toBeCloseTo(18, 6);
  });
});
