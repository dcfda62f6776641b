import fc from 'fast-check';
import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Board, thickestBoard } from '../../src/flattening';
import { centreOf, cloudOf } from '../../src/flattening/cloud';
import { uprightBoard } from '../../src/flattening/upright';
import { seededRandom } from '../../src/search';
import type { Spot3 } from '../../src/surface';
import { referenceBoard } from './reference';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

const upright = (top: readonly Spot3[], bottom: readonly Spot3[]): number => {
  const centre = centreOf(top);
  return uprightBoard(cloudOf(top, centre), cloudOf(bottom, centre)).thickness;
};

/** How far the spots stick into the board, mm: the bottom's over its underside, the top's under its upper side. */
function sticksIn({ plane: { a, b, c }, thickness }: Board, top: readonly Spot3[], bottom: readonly Spot3[]): number {
  const slant = Math.hypot(a, b, 1);
  const over = ([x, y, z]: Spot3): number => (z - a * x - b * y - c) / slant;
  return Math.max(...bottom.map(over), ...top.map((spot) => thickness - over(spot)));
}

const place = fc.tuple(fc.integer({ min: -1300, max: 1300 }), fc.integer({ min: -280, max: 280 }));
const face = (level: number, tenths: number, places: fc.Arbitrary<[number, number]> = place) =>
  fc.array(
    fc.tuple(places, fc.integer({ min: -tenths, max: tenths })).map(([[x, y], dz]): Spot3 => [x, y, level + dz / 10]),
    { minLength: 1, maxLength: 40 },
  );

const cases: readonly [name: string, top: fc.Arbitrary<Spot3[]>, bottom: fc.Arbitrary<Spot3[]>][] = [
  ['random', face(54, 60), face(0, 60)],
  ['tied: whole millimetres on a coarse grid', ...tied()],
  ['degenerate: all spots at few places', ...atFewPlaces()],
  ['flat faces', face(54, 0), face(0, 0)],
  ['bottom through the top', face(10, 200), face(0, 200)],
];

function tied(): [fc.Arbitrary<Spot3[]>, fc.Arbitrary<Spot3[]>] {
  const coarse = fc
    .tuple(fc.integer({ min: -2, max: 2 }), fc.integer({ min: -1, max: 1 }))
    .map(([i, j]) => [600 * i, 250 * j] as [number, number]);
  const whole = (spots: Spot3[]): Spot3[] => spots.map(([x, y, z]) => [x, y, Math.round(z)]);
  return [face(54, 20, coarse).map(whole), face(0, 20, coarse).map(whole)];
}

function atFewPlaces(): [fc.Arbitrary<Spot3[]>, fc.Arbitrary<Spot3[]>] {
  const few = fc.constantFrom<[number, number][]>([0, 0], [700, 0], [-700, 0], [1400, 0]);
  return [face(54, 40, few), face(0, 40, few)];
}

describe('the thickest parallel board, upright, against a general solver', () => {
  for (const [name, top, bottom] of cases) {
    it(`agrees within 1e-6 mm: ${name}`, () => {
      fc.assert(
        fc.property(top, bottom, (u, v) => {
          expect(Math.abs(upright(u, v) - referenceBoard(highs, u, v).thickness)).toBeLessThan(1e-6);
        }),
        { numRuns: 60 },
      );
    });
  }

  it('agrees within 1e-6 mm over 10,000 spots', () => {
    const random = seededRandom(4);
    const spots = (level: number): Spot3[] =>
      Array.from({ length: 10_000 }, () => [2600 * random.next(), 560 * random.next(), level + 2 * random.normal()]);
    const [top, bottom] = [spots(54), spots(0)];
    expect(Math.abs(upright(top, bottom) - referenceBoard(highs, top, bottom).thickness)).toBeLessThan(1e-6);
  });
});

describe('the thickest parallel board, square to its planes', () => {
  for (const [name, top, bottom] of cases) {
    it(`holds the wood off it, and no board is thicker: ${name}`, () => {
      fc.assert(
        fc.property(top, bottom, (u, v) => {
          const board = thickestBoard(u, v);
          expect(sticksIn(board, u, v)).toBeLessThan(1e-7);
          const reference = referenceBoard(highs, u, v);
          // A board at the steepest tilt allowed is no board of a slab: there the tilt's own bounds hold it, not the wood.
          if (Math.max(Math.abs(reference.a), Math.abs(reference.b)) > 0.1999) return;
          const slanted = reference.thickness / Math.hypot(reference.a, reference.b, 1);
          // No board is thicker square to its planes than upright in any frame; and the upright one's own planes are a board too.
          const [least, most] =
            slanted > 0
              ? [slanted, reference.thickness]
              : [reference.thickness, reference.thickness / Math.hypot(0.2, 0.2, 1)];
          expect(board.thickness).toBeGreaterThanOrEqual(least - 1e-6);
          expect(board.thickness).toBeLessThanOrEqual(most + 1e-6);
        }),
        { numRuns: 60 },
      );
    });
  }

  it('is settled in its own frame: solved again there by the general solver, it changes by less than 0.001 mm', () => {
    fc.assert(
      fc.property(face(54, 60), face(0, 60), (u, v) => {
        const board = thickestBoard(u, v);
        const { a, b } = board.plane;
        fc.pre(Math.max(Math.abs(a), Math.abs(b)) < 0.19);
        const own = turnedLevel(a, b);
        const again = referenceBoard(highs, u.map(own), v.map(own));
        expect(Math.abs(again.thickness - board.thickness)).toBeLessThan(0.001);
      }),
      { numRuns: 100 },
    );
  });

  it('names the spots that hold it: moved out by 0.01 mm, they let it grow by their shares', () => {
    fc.assert(
      fc.property(face(54, 60), face(0, 60), (u, v) => {
        const board = thickestBoard(u, v);
        const held = (side: 'top' | 'bottom'): Set<number> =>
          new Set(board.limits.filter((limit) => limit.face === side).map((limit) => limit.spot));
        const shares = board.limits.reduce((sum, { share }) => sum + share, 0);
        expect(shares).toBeCloseTo(2, 6);
        const out = (spots: readonly Spot3[], which: Set<number>, by: number): Spot3[] =>
          spots.map(([x, y, z], i) => [x, y, which.has(i) ? z + by : z]);
        const moved = thickestBoard(out(u, held('top'), -0.01), out(v, held('bottom'), 0.01));
        expect(moved.thickness).toBeLessThan(board.thickness - 0.015);
      }),
      { numRuns: 60 },
    );
  });

  it('lies level over one spot, and over any slab that is thinnest at one place', () => {
    expect(thickestBoard([[100, 20, 54]], [[100, 20, 3]])).toMatchObject({
      thickness: 51,
      plane: { a: 0, b: 0, c: 3 },
    });
    const dented: Spot3[] = [
      [-1000, -200, 54],
      [1000, -200, 54],
      [1000, 200, 54],
      [-1000, 200, 54],
      [250, 60, 50],
    ];
    const flat = dented.map(([x, y]): Spot3 => [x, y, 0]);
    const { plane, thickness } = thickestBoard(dented, flat);
    expect(thickness).toBeCloseTo(50, 9);
    expect(Math.hypot(plane.a, plane.b)).toBeLessThan(1e-9);
  });

  it('tilts no more than it must where many tilts are as thick upright', () => {
    // One thin spot in the middle leaves the tilt free between the two ends' limits; only a rise of 2 in 1,000 is forced.
    const top: Spot3[] = [
      [0, 0, 50],
      [1000, 0, 60],
      [-1000, 0, 48],
    ];
    const bottom: Spot3[] = [
      [0, 0, 0],
      [1000, 0, -6],
      [-1000, 0, -12],
    ];
    const { plane } = thickestBoard(top, bottom);
    expect(plane.a).toBeCloseTo(0.002, 5);
  });

  it('says by how much wood is missing where no board fits', () => {
    const top: Spot3[] = [
      [-1000, 0, 10],
      [0, 0, 60],
      [1000, 0, 10],
    ];
    const bottom: Spot3[] = [
      [-1000, 0, -30],
      [0, 0, 20],
      [1000, 0, -30],
    ];
    expect(thickestBoard(top, bottom).thickness).toBeCloseTo(-10, 9);
  });

  it('is the same for the slab turned and shifted on the bench, and in inches', () => {
    fc.assert(
      fc.property(face(54, 60), face(0, 60), fc.double({ min: -3, max: 3, noNaN: true }), (u, v, angle) => {
        fc.pre(u.length > 3 && v.length > 3);
        const { thickness, plane } = thickestBoard(u, v);
        // Near the steepest tilt the bench's own axes bound the board.
        fc.pre(Math.hypot(plane.a, plane.b) < 0.13);
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
        const turn = ([x, y, z]: Spot3): Spot3 => [x * cos - y * sin + 300, x * sin + y * cos - 70, z + 12];
        expect(thickestBoard(u.map(turn), v.map(turn)).thickness).toBeCloseTo(thickness, 6);
        const inch = ([x, y, z]: Spot3): Spot3 => [x / 25.4, y / 25.4, z / 25.4];
        expect(25.4 * thickestBoard(u.map(inch), v.map(inch)).thickness).toBeCloseTo(thickness, 6);
      }),
      { numRuns: 60 },
    );
  });

  it('is never thinner for more wood, nor thicker for more spots', () => {
    fc.assert(
      fc.property(
        face(54, 60),
        face(0, 60),
        fc.nat(),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (u, v, which, more) => {
          const { thickness } = thickestBoard(u, v);
          const at = which % u.length;
          const grown = u.map(([x, y, z], i): Spot3 => [x, y, i === at ? z + more : z]);
          const fewer = u.length > 1 ? u.filter((_, i) => i !== at) : u;
          for (const { thickness: thicker, plane } of [thickestBoard(grown, v), thickestBoard(fewer, v)]) {
            // At the steepest tilt allowed its bounds hold the board, not the wood.
            if (Math.max(Math.abs(plane.a), Math.abs(plane.b)) > 0.19) continue;
            expect(thicker).toBeGreaterThanOrEqual(thickness - 1e-7);
          }
        },
      ),
      { numRuns: 100 },
    );
  });

  it('refuses spots that are none', () => {
    expect(() => thickestBoard([], [[0, 0, 0]])).toThrow(RangeError);
    expect(() => thickestBoard([[0, 0, Number.NaN]], [[0, 0, 0]])).toThrow(RangeError);
  });
});

/** Turns space so that planes of the given slopes lie level. */
function turnedLevel(a: number, b: number): (spot: Spot3) => Spot3 {
  const length = Math.hypot(a, b, 1);
  const n = [-a / length, -b / length, 1 / length] as const;
  const flat = Math.hypot(1, a);
  const u = [1 / flat, 0, a / flat] as const;
  const w = [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]] as const;
  const dot = (p: readonly [number, number, number], q: Spot3): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
  return (spot) => [dot(u, spot), dot(w, spot), dot(n, spot)];
}
