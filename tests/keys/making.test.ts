import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { regionsArea, ribbon, union } from '../../src/geometry';
import { nestBlanks } from '../../src/keys/blanks';
import { crackArea, crackFill } from '../../src/keys/fill';
import { marksOf } from '../../src/keys/marks';

const coordinate = fc.double({ min: -2000, max: 2000, noNaN: true });
const place = fc.tuple(coordinate, coordinate);

describe('layout marks', () => {
  test('drawn with tape and square from either line, the axis is where it was', () => {
    fc.assert(
      fc.property(place, place, place, fc.double({ min: -90, max: 90, noNaN: true }), (at, a, b, angle) => {
        fc.pre(Math.hypot(b[0] - a[0], b[1] - a[1]) > 20);
        const datum = [
          [0, 0],
          [2200, 0],
        ] as const;
        const marks = marksOf({ at, angle, length: 70 }, datum, [a, b]);
        // Datum line along x: along is x, off is y.
        expect(marks.datum.middle.along).toBeCloseTo(at[0], 6);
        expect(marks.datum.middle.off).toBeCloseTo(at[1], 6);
        const l = Math.hypot(b[0] - a[0], b[1] - a[1]);
        const [ux, uy] = [(b[0] - a[0]) / l, (b[1] - a[1]) / l];
        const drawn = ({ along, off }: { along: number; off: number }) => [
          a[0] + along * ux - off * uy,
          a[1] + along * uy + off * ux,
        ];
        const [p, q] = marks.tips.ends.map(drawn) as [number[], number[]];
        expect(Math.hypot(q[0]! - p[0]!, q[1]! - p[1]!)).toBeCloseTo(70, 6);
        expect((p[0]! + q[0]!) / 2).toBeCloseTo(at[0], 6);
        expect((p[1]! + q[1]!) / 2).toBeCloseTo(at[1], 6);
        // Pythagoras: tapes, along and off tell the same place.
        expect(Math.hypot(marks.tips.middle.along, marks.tips.middle.off)).toBeCloseTo(marks.tips.tapes[0], 6);
        expect(Math.hypot(l - marks.tips.middle.along, marks.tips.middle.off)).toBeCloseTo(marks.tips.tapes[1], 6);
        expect(Math.abs(marks.tips.leans)).toBeLessThanOrEqual(90);
      }),
    );
  });

  test('a key square to the line between the tips leans by nothing, one turned with it by as much', () => {
    const lean = (angle: number) =>
      marksOf(
        { at: [500, 300], angle, length: 70 },
        [
          [0, 0],
          [1, 0],
        ],
        [
          [200, 300],
          [800, 300],
        ],
      ).tips.leans;
    expect(lean(90)).toBeCloseTo(0, 9);
    expect(lean(-90)).toBeCloseTo(0, 9);
    expect(lean(85)).toBeCloseTo(5, 9);
    expect(lean(-85)).toBeCloseTo(-5, 9);
  });
});

describe('filling a crack', () => {
  test('its area is that of the ribbon it is drawn as', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 8, noNaN: true }), { minLength: 2, maxLength: 8 }), (widths) => {
        const line = widths.map((w, i) => [i * 100, 0, w] as const);
        const drawn = regionsArea(union([{ outer: ribbon<'top'>(line), holes: [] }]));
        expect(Math.abs(crackArea(line) - drawn)).toBeLessThan(0.002 * 100 * widths.length + 0.5);
      }),
      { numRuns: 50 },
    );
  });

  test('600 long, 4 wide in the middle, 38 deep: 45.6 ml, a fifth over 54.7 ml (practice: area x depth x 1.1 to 1.2), 1.1 kg a litre', () => {
    const line = [
      [0, 0, 0],
      [300, 0, 4],
      [600, 0, 0],
    ] as const;
    const fill = crackFill(line, 38, { allowance: 1.2, pour: 10 });
    expect(fill.volume).toBeCloseTo(0.0456, 9);
    expect(fill.litres).toBeCloseTo(0.05472, 9);
    expect(fill.kg).toBeCloseTo(0.060192, 9);
    expect(fill.pours).toBe(4);
  });

  test('a depth that nobody knows is not assumed', () => {
    const fill = crackFill(
      [
        [0, 0, 3],
        [100, 0, 3],
      ],
      null,
      { allowance: 1.2, pour: 10 },
    );
    expect(fill).toEqual({ area: 300, depth: null, volume: null, litres: null, kg: null, pours: null });
  });
});

describe('key blanks', () => {
  const kerf = { crosscut: 2.4, rip: 2.4, resaw: 1.3 };
  const wanted = fc.uniqueArray(
    fc.record({
      size: fc.constantFrom('small', 'medium', 'large'),
      length: fc.integer({ min: 50, max: 100 }),
      width: fc.integer({ min: 25, max: 60 }),
      thickness: fc.integer({ min: 8, max: 20 }),
      count: fc.integer({ min: 1, max: 20 }),
    }),
    { selector: ({ size }) => size, minLength: 1, maxLength: 3 },
  );
  const stock = fc
    .array(
      fc.record({
        length: fc.integer({ min: 60, max: 900 }),
        width: fc.integer({ min: 30, max: 200 }),
        thickness: fc.option(fc.integer({ min: 6, max: 50 })),
      }),
      { maxLength: 4 },
    )
    .map((pieces) => pieces.map((piece, i) => ({ ...piece, name: `O${i + 1}` })));

  test('lie inside their piece, a kerf apart, in wood that is thick enough, and none is lost or made up', () => {
    fc.assert(
      fc.property(wanted, stock, (blanks, pieces) => {
        const { uses, short, unread } = nestBlanks(blanks, pieces, kerf);
        for (const { size, count } of blanks) {
          const placed = uses.flatMap((use) => use.blanks).filter((blank) => blank.size === size);
          expect(placed.length + (short.find((one) => one.size === size)?.count ?? 0)).toBe(count);
        }
        expect(new Set(uses.map(({ piece }) => piece)).size).toBe(uses.length);
        for (const use of uses) {
          const piece = pieces.find(({ name }) => name === use.piece)!;
          expect(unread).not.toContain(use.piece);
          for (const { y, layers } of use.strips) {
            const inIt = use.blanks.filter((blank) => blank.y === y);
            const thickest = Math.max(...inIt.map(({ size }) => blanks.find((one) => one.size === size)!.thickness));
            expect(layers * thickest + (layers - 1) * kerf.resaw).toBeLessThanOrEqual(piece.thickness! + 1e-6);
          }
          use.blanks.forEach((a, i) => {
            expect(a.x + a.length).toBeLessThanOrEqual(piece.length + 1e-6);
            expect(a.y + a.width).toBeLessThanOrEqual(piece.width + 1e-6);
            for (const b of use.blanks.slice(i + 1)) {
              if (a.layer !== b.layer && a.y === b.y) continue;
              const gapX = Math.max(b.x - a.x - a.length, a.x - b.x - b.length);
              const gapY = Math.max(b.y - a.y - a.width, a.y - b.y - b.width);
              expect(gapX >= kerf.crosscut - 1e-6 || gapY >= kerf.rip - 1e-6).toBe(true);
            }
          });
        }
      }),
      { numRuns: 200 },
    );
  });

  test('of one size a piece gives as many as rows, columns and layers hold: 600 x 60 x 30 of 73 x 42 x 12 gives 7 x 1 x 2', () => {
    const one = { size: 'm', length: 73, width: 42, thickness: 12, count: 99 };
    const { uses, short } = nestBlanks([one], [{ name: 'O1', length: 600, width: 60, thickness: 30 }], kerf);
    // (600 + 2.4) / 75.4 = 7.99, (60 + 2.4) / 44.4 = 1.4, (30 + 1.3) / 13.3 = 2.35.
    expect(uses[0]?.blanks).toHaveLength(14);
    expect(short).toEqual([{ size: 'm', count: 85 }]);
  });

  test('the smallest piece that gives all is taken, and one that nobody read is named instead', () => {
    const four = { size: 'm', length: 73, width: 42, thickness: 16, count: 4 };
    const piece = (name: string, length: number, thickness: number | null) => ({ name, length, width: 60, thickness });
    const stock = [piece('O1', 900, 40), piece('O2', 320, 18), piece('O3', 310, null), piece('O4', 300, 18)];
    expect(nestBlanks([four], stock, kerf)).toMatchObject({ uses: [{ piece: 'O4' }], short: [], unread: ['O3'] });
  });
});
