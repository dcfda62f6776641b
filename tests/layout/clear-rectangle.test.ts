import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyAll,
  difference,
  offset,
  type Polygon,
  type Region,
  rectangle,
  regionsArea,
  rigid,
  ringArea,
  union,
} from '../../src/geometry';
import { clearRectangle } from '../../src/layout/clear-rectangle';
import { clearPieces } from '../../src/layout/offcut-rectangles';

/** The largest clear rectangle against brute force, and what must be true of any. */

const ringsOf = (regions: readonly Region<'face'>[]): Polygon<'face'>[] =>
  regions.flatMap(({ outer, holes }) => [outer, ...holes]);
const solid = (outer: Polygon<'face'>): Region<'face'> => ({ outer, holes: [] });

/** A board of squares, some of them gone: sides of the largest rectangle lie on lines of the board. */
const SQUARE = 37;
const boards = fc.array(fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }), { minLength: 6, maxLength: 6 });

function bruteForce(board: readonly (readonly boolean[])[], least: { long: number; short: number }): number {
  const [rows, columns] = [board.length, board[0]?.length ?? 0];
  let best = 0;
  for (let r0 = 0; r0 < rows; r0++)
    for (let r1 = r0; r1 < rows; r1++)
      for (let c0 = 0; c0 < columns; c0++)
        for (let c1 = c0; c1 < columns; c1++) {
          const whole = board.slice(r0, r1 + 1).every((row) => row.slice(c0, c1 + 1).every(Boolean));
          const sides = [(r1 - r0 + 1) * SQUARE, (c1 - c0 + 1) * SQUARE].sort((a, b) => b - a) as [number, number];
          if (whole && sides[0] >= least.long && sides[1] >= least.short) best = Math.max(best, sides[0] * sides[1]);
        }
  return best;
}

describe('the largest clear rectangle', () => {
  it('is that of brute force on boards of squares', () => {
    fc.assert(
      fc.property(boards, fc.integer({ min: 1, max: 3 }), fc.integer({ min: 0, max: 2 }), (board, short, more) => {
        const squares = board.flatMap((row, r) =>
          row.flatMap((on, c) =>
            on ? [solid(rectangle(c * SQUARE, r * SQUARE, (c + 1) * SQUARE, (r + 1) * SQUARE))] : [],
          ),
        );
        const least = { short: short * SQUARE - 1, long: (short + more) * SQUARE - 1 };
        const found = clearRectangle(ringsOf(union(squares)), least);
        const area = found ? (found.maxX - found.minX) * (found.maxY - found.minY) : 0;
        const true_ = bruteForce(board, least);
        // True to a millimetre in length: never more than there is.
        expect(area).toBeLessThanOrEqual(true_ + 0.5);
        expect(area).toBeGreaterThanOrEqual(true_ - 2 * 7 * SQUARE);
        if (true_ > 0) expect(found).not.toBeNull();
      }),
      { numRuns: 150 },
    );
  });

  it('is that of a fine raster in wavy, tapered wood with holes', () => {
    const waves = fc.record({
      taper: fc.integer({ min: -60, max: 60 }),
      swing: fc.integer({ min: 0, max: 25 }),
      holes: fc.array(fc.tuple(fc.integer({ min: 30, max: 560 }), fc.integer({ min: 10, max: 190 })), { maxLength: 4 }),
    });
    fc.assert(
      fc.property(waves, ({ taper, swing, holes }) => {
        const xs = Array.from({ length: 61 }, (_, i) => 10 * i);
        const front = (x: number): number => swing * Math.cos(x / 70);
        const back = (x: number): number => 200 + (taper * x) / 600 + swing * Math.sin(x / 90);
        const outer = [...xs.map((x) => [x, front(x)] as const), ...xs.toReversed().map((x) => [x, back(x)] as const)];
        const wood = difference(
          [solid(outer)],
          holes.map(([x, y]) => solid(rectangle(x, y, x + 14, y + 9))),
        );
        const least = { long: 100, short: 40 };
        const found = clearRectangle(ringsOf(wood), least);
        if (!found) throw new Error('such wood holds a rectangle');
        const { minX, minY, maxX, maxY } = found;
        const area = (maxX - minX) * (maxY - minY);
        const box = [solid(rectangle<'face'>(minX, minY, maxX, maxY))];
        expect(regionsArea(difference(offset(box, -0.005, 'mitre'), wood))).toBeLessThan(0.01);
        // No rectangle of whole 2 mm squares of the wood is larger, but for the millimetre of length that is not looked for.
        const edge = (of: (x: number) => number) => (x: number) => {
          const from = 10 * Math.floor(x / 10);
          return of(from) + ((x - from) / 10) * (of(from + 10) - of(from));
        };
        const inside = (x: number, y: number): boolean =>
          y >= Math.max(edge(front)(x), edge(front)(x + 2)) &&
          y + 2 <= Math.min(edge(back)(x), edge(back)(x + 2)) &&
          !holes.some(([hx, hy]) => x < hx + 14 && x + 2 > hx && y < hy + 9 && y + 2 > hy);
        expect(area).toBeGreaterThanOrEqual(rasterBest(inside) - (maxY - minY) - 1);
      }),
      { numRuns: 25 },
    );
  });

  it('needs its size both ways, and beats what it is to beat', () => {
    const strip = [rectangle<'face'>(0, 0, 1000, 50)];
    expect(clearRectangle(strip, { long: 300, short: 60 })).toBeNull();
    expect(clearRectangle(strip, { long: 300, short: 40 })).not.toBeNull();
    expect(clearRectangle(strip, { long: 300, short: 40 }, 50_001)).toBeNull();
  });
});

/** Area of the largest rectangle of use of whole 2 mm squares that lie in the wood, over all pairs of rows. */
function rasterBest(inside: (x: number, y: number) => boolean): number {
  const [columns, rows] = [300, 170];
  const grid = Array.from({ length: rows }, (_, r) =>
    Array.from({ length: columns }, (_, c) => inside(2 * c, 2 * r - 30)),
  );
  let best = 0;
  for (let r0 = 0; r0 < rows; r0++) {
    const all = new Array<boolean>(columns).fill(true);
    for (let r1 = r0; r1 < rows; r1++) {
      let run = 0;
      for (let c = 0; c < columns; c++) {
        all[c] = all[c] === true && grid[r1]?.[c] === true;
        run = all[c] ? run + 1 : 0;
        const [long, short] = [Math.max(run, r1 - r0 + 1) * 2, Math.min(run, r1 - r0 + 1) * 2];
        if (long >= 100 && short >= 40) best = Math.max(best, long * short);
      }
    }
  }
  return best;
}

describe('pieces that an offcut gives', () => {
  const least = { long: 300, short: 60 };

  it('lie along a slanted side where that gives more', () => {
    fc.assert(
      fc.property(fc.double({ min: -3.9, max: 3.9, noNaN: true }), (degrees) => {
        fc.pre(Math.abs(degrees) > 0.5);
        const turned = applyAll(rigid<'face', 'face'>(degrees, 0, 0), rectangle<'face'>(0, 0, 1200, 180));
        const [piece] = clearPieces([solid(turned)], least, 3, 1);
        expect(piece?.degrees).toBeCloseTo(degrees, 1);
        // The wood less the tenths that are kept from its edge, and a millimetre of length.
        expect(ringArea(piece?.polygon ?? [])).toBeGreaterThan(1198 * 179);
      }),
      { numRuns: 20 },
    );
  });

  it('lie along the grain where that runs at an angle, and not along a slab that it leaves', () => {
    const board = [solid(rectangle<'face'>(0, 0, 1400, 400))];
    const [piece] = clearPieces(board, least, 3, 1, 9);
    expect(piece?.degrees).toBeGreaterThanOrEqual(5);
    expect(piece?.degrees).toBeLessThanOrEqual(13);
  });

  it('lie in the wood, a kerf apart, the largest first', () => {
    const holes = fc.array(fc.tuple(fc.integer({ min: 0, max: 1500 }), fc.integer({ min: 0, max: 380 })), {
      maxLength: 5,
    });
    fc.assert(
      fc.property(holes, fc.integer({ min: -40, max: 40 }), (at, lean) => {
        const outer: Polygon<'face'> = [
          [0, 0],
          [1600, lean],
          [1580, 420],
          [10, 400],
        ];
        const wood = difference(
          [solid(outer)],
          at.map(([x, y]) => solid(rectangle(x, y, x + 60, y + 30))),
        );
        const pieces = clearPieces(wood, least, 3, 4).map(({ polygon }) => [solid(polygon)]);
        expect(pieces.length).toBeGreaterThan(0);
        pieces.forEach((piece, i) => {
          expect(regionsArea(difference(piece, wood))).toBeLessThan(0.1);
          for (const other of pieces.slice(i + 1)) {
            const grown = offset(piece, 2.9, 'mitre');
            expect(regionsArea(difference(other, difference(other, grown)))).toBeLessThan(0.1);
            expect(regionsArea(other)).toBeLessThanOrEqual(regionsArea(piece) * 1.01);
          }
        });
      }),
      { numRuns: 15 },
    );
  });
});
