import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type SheetCuts, type SheetPart, type SheetStock, sheetCuts } from '../../src/plan/sheet-cuts';

const EPS = 1e-6;
interface Box {
  x: number;
  y: number;
  toX: number;
  toY: number;
}

/** Saws a sheet as the list says, knowing nothing of strips: each cut must go through a piece that is there, from edge to edge. */
function sawn({ stock, kerf }: SheetCuts, cuts: SheetCuts['sheets'][number]['cuts']): Box[] {
  let pieces: Box[] = [{ x: 0, y: 0, toX: stock.length, toY: stock.width }];
  for (const { line, stage } of cuts) {
    const [[x1, y1], [x2, y2]] = line;
    const [mx, my] = [(x1 + x2) / 2, (y1 + y2) / 2];
    const piece = pieces.find((p) => mx > p.x - EPS && mx < p.toX + EPS && my > p.y - EPS && my < p.toY + EPS);
    expect(piece, 'the saw meets a piece').toBeDefined();
    const p = piece as Box;
    const upright = x1 === x2;
    expect(upright || y1 === y2).toBe(true);
    if (upright)
      expect([Math.min(y1, y2), Math.max(y1, y2)]).toEqual([expect.closeTo(p.y, 6), expect.closeTo(p.toY, 6)]);
    else expect([Math.min(x1, x2), Math.max(x1, x2)]).toEqual([expect.closeTo(p.x, 6), expect.closeTo(p.toX, 6)]);
    // The kerf lies beyond the line; that of an edge lies in what comes off.
    const [before, after] = stage === 'edge' ? [-kerf, 0] : [0, kerf];
    const halves = upright
      ? [
          { ...p, toX: x1 + before },
          { ...p, x: x1 + after },
        ]
      : [
          { ...p, toY: y1 + before },
          { ...p, y: y1 + after },
        ];
    pieces = [...pieces.filter((one) => one !== p), ...halves.filter((h) => h.toX > h.x + EPS && h.toY > h.y + EPS)];
  }
  return pieces;
}

/** Fewest sheets by trying every way to share pieces out to shelves and shelves to sheets, for a few pieces. */
function fewestByHand(parts: readonly SheetPart[], stock: SheetStock, kerf: number): number {
  const pieces = parts.flatMap((part) => Array.from({ length: part.count }, () => part));
  const ways = ({ height, width }: SheetPart) =>
    stock.grain === 'along'
      ? [[height, width]]
      : stock.grain === 'across'
        ? [[width, height]]
        : [
            [height, width],
            [width, height],
          ];
  let best = Infinity;
  for (const [runs, rises, swap] of [
    [stock.length - 2 * stock.trim, stock.width - 2 * stock.trim, false],
    [stock.width - 2 * stock.trim, stock.length - 2 * stock.trim, true],
  ] as const) {
    const sheetsOf = (rest: number[]): number => {
      // Fewest bins for shelves: every sharing out.
      let least = Infinity;
      const go = (i: number, bins: number[]): void => {
        if (bins.length >= least) return;
        const rise = rest[i];
        if (rise === undefined) {
          least = bins.length;
          return;
        }
        for (let b = 0; b < bins.length; b++)
          if (bins[b]! + kerf + rise <= rises + EPS) go(i + 1, bins.with(b, bins[b]! + kerf + rise));
        if (rise <= rises + EPS) go(i + 1, [...bins, rise]);
      };
      go(0, []);
      return least;
    };
    const go = (i: number, shelves: { run: number; rise: number }[]): void => {
      const piece = pieces[i];
      if (!piece) {
        best = Math.min(best, sheetsOf(shelves.map(({ rise }) => rise)));
        return;
      }
      for (const [long, across] of ways(piece) as [number, number][]) {
        const [run, rise] = swap ? [across, long] : [long, across];
        if (run > runs + EPS || rise > rises + EPS) continue;
        for (let s = 0; s < shelves.length; s++) {
          const next = shelves[s]!.run + kerf + run;
          if (next <= runs + EPS) go(i + 1, shelves.with(s, { run: next, rise: Math.max(shelves[s]!.rise, rise) }));
        }
        go(i + 1, [...shelves, { run, rise }]);
      }
    };
    go(0, []);
  }
  return best;
}

const size = fc.integer({ min: 8, max: 60 }).map((n) => n * 10);
const stocks: fc.Arbitrary<SheetStock> = fc.record({
  length: fc.constantFrom(1000, 1250),
  width: fc.constantFrom(620, 800),
  trim: fc.constantFrom(0, 8),
  grain: fc.constantFrom('none' as const, 'along' as const, 'across' as const),
});
const partsOf = (most: number) =>
  fc
    .array(fc.record({ height: size, width: size, count: fc.integer({ min: 1, max: 4 }) }), {
      minLength: 1,
      maxLength: most,
    })
    .map((all) => all.map((one, i): SheetPart => ({ id: `p${i}`, name: `Door ${i + 1}`, ...one })));

describe('cut lists of sheets', () => {
  test('every part comes out once, at its size, its grain right, by cuts that go through', () => {
    fc.assert(
      fc.property(partsOf(7), stocks, fc.constantFrom(0, 2.4, 3.2), (parts, stock, kerf) => {
        const cut = sheetCuts(parts, stock, kerf);
        const got = new Map<string, number>();
        for (const sheet of cut.sheets) {
          const pieces = sawn(cut, sheet.cuts);
          for (const p of sheet.parts) {
            got.set(p.id, (got.get(p.id) ?? 0) + 1);
            const part = parts.find(({ id }) => id === p.id)!;
            expect([p.long, p.across]).toEqual(p.turned ? [part.width, part.height] : [part.height, part.width]);
            if (stock.grain === 'along' && part.height !== part.width) expect(p.turned).toBe(false);
            if (stock.grain === 'across' && part.height !== part.width) expect(p.turned).toBe(true);
            const same = pieces.filter(
              (b) =>
                Math.abs(b.x - p.x) < EPS &&
                Math.abs(b.y - p.y) < EPS &&
                Math.abs(b.toX - p.x - p.long) < EPS &&
                Math.abs(b.toY - p.y - p.across) < EPS,
            );
            expect(same, `${p.name} is sawn to size`).toHaveLength(1);
          }
        }
        for (const { id, count } of parts)
          expect((got.get(id) ?? 0) + (cut.tooLarge.some((part) => part.id === id) ? count : 0)).toBe(count);
        expect(cut.least).toBeLessThanOrEqual(cut.sheets.length);
      }),
      { numRuns: 150 },
    );
  });

  test('as few sheets as every sharing out of a few parts by hand', () => {
    let hard = 0;
    fc.assert(
      fc.property(partsOf(3), stocks, fc.constantFrom(0, 3.2), (parts, stock, kerf) => {
        fc.pre(parts.reduce((sum, { count }) => sum + count, 0) <= 5);
        const cut = sheetCuts(parts, stock, kerf);
        const fitting = parts.filter(({ id }) => !cut.tooLarge.some((part) => part.id === id));
        const least = fitting.length === 0 ? 0 : fewestByHand(fitting, stock, kerf);
        expect(cut.proven).toBe(true);
        expect(cut.sheets.length).toBe(least);
        if (least > cut.least) hard++;
      }),
      { numRuns: 120, seed: 7 },
    );
    // The bound alone would not have told.
    expect(hard).toBeGreaterThan(0);
  });

  test('eight doors of 720 by 396 out of sheets of 2,440 by 1,220: one with the grain along the doors, two with it across', () => {
    const doors = [{ id: 'd', name: 'Door', height: 720, width: 396, count: 8 }];
    const sheet = { length: 2440, width: 1220, trim: 0 };
    // 3 x 396 + 2 kerfs = 1194 across, 3 x 720 + 2 kerfs = 2166 along: nine places.
    const free = sheetCuts(doors, { ...sheet, grain: 'along' }, 3.2);
    expect([free.sheets.length, free.least, free.proven]).toEqual([1, 1, true]);
    // Across: 6 of 396 along the sheet, one of 720 across it, then 500 are left: six places a sheet.
    const across = sheetCuts(doors, { ...sheet, grain: 'across' }, 3.2);
    expect([across.sheets.length, across.proven]).toEqual([2, true]);
    // Free of grain they fit as they do along it.
    expect(sheetCuts(doors, { ...sheet, grain: 'none' }, 3.2).sheets).toHaveLength(1);
  });

  test('what no sheet can give is named, and the rest is cut', () => {
    const cut = sheetCuts(
      [
        { id: 'tall', name: 'Tall door', height: 2600, width: 400, count: 2 },
        { id: 'd', name: 'Door', height: 700, width: 400, count: 1 },
      ],
      { length: 2440, width: 1220, trim: 10, grain: 'none' },
      3,
    );
    expect(cut.tooLarge.map(({ id }) => id)).toEqual(['tall']);
    expect(cut.sheets.flatMap(({ parts }) => parts.map(({ id }) => id))).toEqual(['d']);
  });
});
