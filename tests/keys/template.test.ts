import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bounds, contains, distanceToRing, type Point, ringArea } from '../../src/geometry';
import { inlayPair, taperOf } from '../../src/keys/inlay';
import { keyOutline, openingFor } from '../../src/keys/shape';
import { templateOf, waistOf } from '../../src/keys/template';
import { medium, outside, size } from './top';

const LEVEL = { at: [0, 0], turn: 0 } as const;
const INCH = 25.4;

/** Any key and any router that can cut it: flare of 8 to 20 degrees, bit no wider than the waist. */
const cuttable = fc
  .record({
    length: fc.double({ min: 30, max: 120, noNaN: true }),
    waist: fc.double({ min: 0.25, max: 0.5, noNaN: true }),
    flare: fc.double({ min: 8, max: 20, noNaN: true }),
    bit: fc.double({ min: 0.2, max: 0.6, noNaN: true }),
    over: fc.double({ min: 2, max: 10, noNaN: true }),
  })
  .map(({ length, waist, flare, bit, over }) => {
    const w = waist * length;
    const end = w + length * Math.tan((flare * Math.PI) / 180);
    return { key: { id: 'any', length, waist: w, end, depths: [10] }, bit: bit * w, bushing: bit * w + over };
  });

/** Closed form, no polygon library: how far a point lies outside a bow tie, square to its nearest side. */
function beyond([px, py]: Point<'top'>, ring: readonly Point<'top'>[]): number {
  let least = Infinity;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length] as Point<'top'>;
    const l2 = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = Math.max(0, Math.min(1, ((px - ax) * (bx - ax) + (py - ay) * (by - ay)) / l2));
    least = Math.min(least, Math.hypot(px - ax - t * (bx - ax), py - ay - t * (by - ay)));
  });
  return least;
}

describe('the template of a pocket', () => {
  test.each([
    // Published: trade page, router-bushing forums (TRADE 6, bushing-1 to bushing-3).
    [30, 10, 10],
    [15, 9, 3],
    [1 * INCH, 0.5 * INCH, 0.25 * INCH],
  ])('stands off by half of bushing less bit: %d and %d give %d', (bushing, bit, offset) => {
    expect(templateOf(medium, 14, { bushing, bit }).offset).toBeCloseTo(offset, 9);
  });

  test("the trade notes' worked template (TRADE 11 d): key 70, waist 21, flare 14.5 degrees, 30 over 10: length 90, waist 41.7", () => {
    const { opening, problems } = templateOf(medium, 14, { bushing: 30, bit: 10 });
    const { minX, maxX } = bounds(opening);
    expect(maxX - minX).toBeCloseTo(90, 9);
    expect(waistOf(opening)).toBeCloseTo(41.7, 1);
    expect(waistOf(opening)).toBeCloseTo(21 + 20 / Math.cos((14.5 * Math.PI) / 180), 9);
    expect(problems).toEqual([]);
  });

  test('a key 2 1/2 in long with a 3/4 in waist and flanks of 76 degrees is 1.373 in wide at its ends (TRADE 6)', () => {
    const end = 0.75 + 2.5 * Math.tan((14 * Math.PI) / 180);
    expect(end).toBeCloseTo(1.373, 3);
    const key = { id: 'a', length: 2.5 * INCH, waist: 0.75 * INCH, end: end * INCH, depths: [10] };
    expect(bounds(templateOf(key, 10, { bushing: INCH, bit: 0.5 * INCH }).opening).maxX).toBeCloseTo(1.5 * INCH, 9);
  });

  test('the bit clears the key all but its corners, and no more than the round of the bushing at the waist', () => {
    fc.assert(
      fc.property(cuttable, ({ key, bit, bushing }) => {
        const template = templateOf(key, 10, { bushing, bit });
        fc.pre(template.problems.length === 0);
        const outline = keyOutline(key, LEVEL);
        const phi = Math.atan((key.end - key.waist) / key.length);
        const c = Math.PI / 2 - phi;
        const corners = 4 * (bit / 2) ** 2 * (1 / Math.tan(c / 2) - (Math.PI - c) / 2);
        const off = (bushing - bit) / 2;
        // Between a round of radius `off` and its two tangents, once on each side of the waist.
        const waists = 2 * off ** 2 * (Math.tan(phi) - phi);
        // Rounds are drawn to 0.01 mm, and corners stand on whole micrometres.
        const slack = 0.012 * (Math.PI * bit + 4 * off) + 0.0015 * (3 * key.length + 2 * key.end);
        expect(Math.abs(outside(outline, template.routed) - corners)).toBeLessThan(slack);
        expect(Math.abs(outside(template.routed, outline) - waists)).toBeLessThan(slack);
        expect(template.fuller).toBeCloseTo(off / Math.cos(phi) - off, 9);
        if (corners > 0.5) expect(template.chisel).toHaveLength(4);
      }),
      { numRuns: 60 },
    );
  });

  test('every place of the cut lies the offset inside the opening, by a closed form', () => {
    fc.assert(
      fc.property(cuttable, ({ key, bit, bushing }) => {
        const { opening, routed, problems, offset: off } = templateOf(key, 10, { bushing, bit });
        fc.pre(problems.length === 0);
        // Along the sides and round the waist exactly the offset; in the corners more, for the bit's round.
        const gaps = routed.map((p) => beyond(p, opening));
        expect(Math.min(...gaps)).toBeGreaterThan(off - 0.012);
        expect(
          routed.filter((p) => Math.abs(p[0]) < key.length / 4).every((p) => beyond(p, opening) < off + 0.012),
        ).toBe(true);
      }),
      { numRuns: 60 },
    );
  });

  test('what cannot be cut is said', () => {
    const said = (router: { bushing: number; bit: number; reach?: number }, depth = 14) =>
      templateOf(medium, depth, router).problems.join(' ');
    expect(said({ bushing: 10, bit: 12 })).toMatch(/lets no bit of 12 mm through/);
    expect(said({ bushing: 40, bit: 22 })).toMatch(/wider than the waist of "medium", 21 mm/);
    expect(said({ bushing: 70, bit: 20.9 })).toBe('');
    expect(said({ bushing: 30, bit: 10, reach: 12 })).toMatch(
      /cuts 12 mm under the template and the pocket is 14 mm deep/,
    );
    expect(said({ bushing: 30, bit: 10, reach: 14 })).toBe('');
    // Short and fat: a bit that passes the waist but whose rounds meet at the ends' sides.
    expect(
      templateOf({ id: 's', length: 20, waist: 30, end: 32, depths: [8] }, 8, { bushing: 40, bit: 29 }).problems[0],
    ).toMatch(/does not reach the corners/);
  });

  test('a bushing passes the template at the waist just when the opening holds it there', () => {
    fc.assert(
      fc.property(cuttable, fc.double({ min: 0.5, max: 1.3, noNaN: true }), ({ key, bushing }, share) => {
        const bit = Math.min(key.waist * share, bushing - 0.5);
        const { problems, opening } = templateOf(key, 10, { bushing, bit });
        const passes = waistOf(opening) >= bushing && bit <= key.waist;
        expect(problems.some((words) => /waist/.test(words))).toBe(!passes);
      }),
    );
  });
});

describe('an inlay pair from one template', () => {
  test('half-inch bushing and quarter-inch bit want a collar of 1 in (TRADE 6, r = O + 2 b)', () => {
    const router = { bushing: 0.5 * INCH, bit: 0.25 * INCH, collar: INCH };
    const pair = inlayPair(medium, router, { gap: 0 });
    expect(pair.collar).toBeCloseTo(INCH, 9);
    expect(pair.apart).toBeCloseTo(0, 9);
    expect(pair.problems).toEqual([]);
    expect(pair.gap.least).toBeCloseTo(0, 2);
    expect(pair.gap.most).toBeCloseTo(0, 2);
  });

  test('key and pared pocket keep the wanted gap all round, reckoned from either', () => {
    fc.assert(
      fc.property(cuttable, fc.double({ min: 0.05, max: 0.3, noNaN: true }), ({ key, bit, bushing }, gap) => {
        const collar = bushing + 2 * bit - 2 * gap;
        fc.pre(collar > bushing);
        const pair = inlayPair(key, { bushing, bit, collar }, { gap });
        pair.opening.forEach((p, i) => {
          expect(Math.hypot(p[0] - pair.fromPocket[i]![0], p[1] - pair.fromPocket[i]![1])).toBeLessThan(1e-9);
        });
        // Micrometre coordinates, rounds drawn to 0.01 mm.
        expect(pair.gap.least).toBeGreaterThan(gap - 0.015);
        expect(pair.gap.most).toBeLessThan(gap + 0.015);
        expect(pair.key.every((p) => contains(pair.pared, p))).toBe(true);
        // A second way to the gap: the ring between the two has the gap times the way around it.
        const around = pair.key.reduce((sum, p, i) => {
          const q = pair.key[(i + 1) % pair.key.length]!;
          return sum + Math.hypot(q[0] - p[0], q[1] - p[1]);
        }, 0);
        expect((ringArea(pair.pared) - ringArea(pair.key)) / around).toBeCloseTo(gap, 1);
        // The key that was asked for comes out, but for the round at its waist.
        expect(outside(keyOutline(key, LEVEL), pair.key)).toBeLessThan(0.3);
      }),
      { numRuns: 60 },
    );
  });

  test('a collar that gives another gap is told, with the one that gives the wanted', () => {
    const said = (collar: number, gap = 0.1) => inlayPair(medium, { bushing: 16, bit: 6, collar }, { gap });
    expect(said(27.8).problems).toEqual([]);
    expect(said(27).problems[0]).toMatch(/gap is 0\.5 mm .* where 0\.1 mm is wanted: a collar of 27\.8 mm/);
    expect(said(27).gap.least).toBeCloseTo(0.5, 1);
    expect(said(29).problems[0]).toMatch(/key comes out 0\.5 mm larger .* take one of 27\.8 mm/);
    expect(said(29).gap.most).toBeCloseTo(-0.5, 1);
    expect(said(16).problems[0]).toMatch(/does not go over/);
    expect(
      inlayPair(size('slim', 60, [10]), { bushing: 30, bit: 20, collar: 70 }, { gap: 0 }).problems.some((words) =>
        /does not pass the waist/.test(words),
      ),
    ).toBe(true);
  });

  test('the opening of the pair is the key moved outward: every corner of the key lies that far inside it', () => {
    const opening = openingFor(medium, 11);
    for (const p of keyOutline(medium, LEVEL)) expect(distanceToRing(p, opening)).toBeGreaterThanOrEqual(11 - 1e-9);
  });
});

describe('taper of a key', () => {
  test('half a degree over 14 mm widens the face by 0.122 mm a side (tan 0.5 degrees)', () => {
    const taper = taperOf(14, { gap: 0.1, taperDegrees: 0.5 });
    expect(taper.wider).toBeCloseTo(0.12218, 4);
    expect(taper.over).toBeCloseTo(0.02218, 4);
    // It binds where its side has come out by the gap: 0.1 / tan 0.5 = 11.46 mm over its foot, 2.54 mm before home.
    expect(taper.binds).toBeCloseTo(14 - 0.1 / Math.tan((0.5 * Math.PI) / 180), 6);
  });

  test('an upright key drops in, and one with much gap never binds', () => {
    expect(taperOf(14, { gap: 0.1, taperDegrees: 0 })).toEqual({ wider: 0, over: -0.1, binds: 0 });
    expect(taperOf(14, { gap: 0.5, taperDegrees: 1 }).binds).toBe(0);
  });
});
