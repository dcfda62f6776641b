import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rectangle } from '../../src/geometry';
import { type Board, DEFAULT_SHOP, defaultDoor } from '../../src/job';
import {
  boardsToBuy,
  clearFaces,
  flatThickness,
  handOut,
  leavesBy,
  piecesAlong,
  readyBoard,
  resawBudget,
  resawn,
  restUse,
  USUAL_WAY,
  WAYS,
  wantedFaces,
} from '../../src/leaves';
import { fewestPackets } from '../../src/leaves/leaf-packets';
import { stripsOf } from '../../src/leaves/rip';
import { leavesFor } from '../../src/leaves/spare';
import { sawAt } from '../../src/leaves/yield';

const flat = { bow: 0, cup: 0, twist: 0, sigma: 0.2 };
const warped = (warp: Partial<typeof flat>, length = 1650, width = 210, thickness = 46) => ({
  length,
  width,
  thickness,
  warp: { ...flat, ...warp },
});
const shop = (resaw: Partial<(typeof DEFAULT_SHOP)['resaw']>) => ({
  ...DEFAULT_SHOP,
  resaw: { ...DEFAULT_SHOP.resaw, ...resaw },
});
const um = (mm: number) => Math.round(mm * 1000);

describe('a board before it is sawn', () => {
  test.each([
    ['bow 6', { bow: 6 }, 46 - 6],
    ['cup 4', { cup: 4 }, 46 - 4],
    ['twist 3, corners shimmed alike', { twist: 3 }, 46 - 1.5],
    ['bow and cup', { bow: 2, cup: 3 }, 46 - 5],
  ])('%s: between its flat faces is left what TRADE 5 derives', (_, warp, left) => {
    expect(Math.abs(flatThickness(warped(warp)) - left)).toBeLessThan(0.01);
  });

  test('2,600 x 560 x 54 with bow 9, cup 4, twist 3 is 40.25 whole and 42.6 cut to 2,250 (TRADE 11 a)', () => {
    const slab = warped({ bow: 9, cup: 4, twist: 3 }, 2600, 560, 54);
    expect(flatThickness(slab)).toBeCloseTo(54 - 9 - 4 - 0.75, 0);
    expect(flatThickness(slab, [175, 2425])).toBeCloseTo(42.6, 1);
  });

  test('ripped in two it loses a quarter of its cup (TRADE 5), and no strip is higher than the machine takes', () => {
    const board = warped({ cup: 8 }, 1650, 402.4, 60);
    const { strips, flat: thick } = readyBoard(board, shop({ height: 250 }));
    expect(strips).toEqual({ count: 2, width: 200 });
    // Thickness counts square to the strip, which leans: a few hundredths.
    expect(60 - thick).toBeCloseTo(8 * (200 / 402.4) ** 2, 1);
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 900, noNaN: true }),
        fc.double({ min: 50, max: 400, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (width, height, kerf) => {
          const { count, width: strip } = stripsOf(width, height, kerf);
          expect(strip).toBeLessThanOrEqual(height + 1e-9);
          expect(count * strip + (count - 1) * kerf).toBeCloseTo(width, 6);
          if (count > 1) expect((width - (count - 2) * kerf) / (count - 1)).toBeGreaterThan(height - 1e-9);
        },
      ),
    );
  });

  test('the account of its thickness adds up to the micrometre, by every way, warped, ripped and with drift', () => {
    const boards = fc.record({
      thickness: fc.integer({ min: 20_000, max: 90_000 }).map((n) => n / 1000),
      cup: fc.integer({ min: -40, max: 40 }).map((n) => n / 10),
      bow: fc.integer({ min: 0, max: 30 }).map((n) => n / 10),
      per100: fc.integer({ min: 0, max: 60 }).map((n) => n / 100),
      tolerance: fc.integer({ min: 0, max: 40 }).map((n) => n / 100),
      sanding: fc.integer({ min: 0, max: 900 }).map((n) => n / 1000),
      way: fc.constantFrom(...WAYS),
    });
    fc.assert(
      fc.property(boards, ({ thickness, cup, bow, per100, tolerance, sanding, way }) => {
        const own = shop({ height: 150, drift: { per100, tolerance }, leaf: { thickness: 2, sanding } });
        const ready = readyBoard(warped({ cup, bow }, 1650, 210, thickness), own);
        const sawn = resawn(ready.saw, way);
        const budget = resawBudget(ready, sawn, own.resaw);
        expect(budget.reduce((sum, { mm }) => sum + um(mm), 0)).toBe(um(thickness));
        for (const { mm } of budget) expect(mm).toBeGreaterThan(0);
        // The thin edge of every leaf, less what sanding evens out, still has its sanding and its finished thickness.
        const thin = ready.saw.leaf - ready.wedge.over;
        expect(thin + tolerance).toBeGreaterThanOrEqual(2 + sanding - 0.0015);
      }),
      { numRuns: 60 },
    );
  });

  test('a rest is told by what is left of it once both its faces are clean', () => {
    const { resaw } = shop({ dressing: 0.5, faceAllowance: 1 });
    expect(restUse(11.3, resaw)).toEqual({ clean: 9.8, uses: ['backer', 'lipping', 'drawer bottom'] });
    expect(restUse(3.2, resaw)).toEqual({ clean: 1.7, uses: [] });
    expect(restUse(1, resaw).clean).toBe(0);
  });
});

describe('panel faces out of leaves', () => {
  const spoiltAt = fc.record({
    from: fc.integer({ min: 0, max: 38 }),
    deep: fc.integer({ min: 1, max: 6 }),
    low: fc.option(fc.integer({ min: 0, max: 9 })),
  });

  test('as many pieces as any placing on a grid gives, round stretches and boxes that are spoilt', () => {
    fc.assert(
      fc.property(
        fc.array(spoiltAt, { maxLength: 4 }),
        fc.integer({ min: 3, max: 14 }),
        fc.integer({ min: 2, max: 10 }),
        fc.integer({ min: 0, max: 2 }),
        (drawn, length, width, kerf) => {
          const places = drawn.map(({ from, deep, low }) => ({ from, to: from + deep, low }));
          const spoilt: Board['spoilt'] = places.map(({ from, to, low }, i) =>
            low === null ? { id: `s${i}`, from, to } : { id: `s${i}`, polygon: rectangle(from, low, to, low + 2) },
          );
          const [face] = clearFaces({ length: 40, spoilt }, { count: 1, width: 10 }, 0);
          // On whole millimetres: a place is free when some strip of it as wide as the piece meets nothing spoilt.
          const free = (at: number) =>
            Array.from({ length: 11 - width }, (_, y) => y).some((y) =>
              places.every(
                ({ from, to, low }) =>
                  to <= at || from >= at + length || (low !== null && (low + 2 <= y || low >= y + width)),
              ),
            );
          const best: number[] = [];
          for (let at = 40; at >= 0; at--) {
            const here = at + length <= 40 && free(at) ? 1 + (best[at + length + kerf] ?? 0) : 0;
            best[at] = Math.max(best[at + 1] ?? 0, here);
          }
          expect(face && piecesAlong(face, { length, width }, kerf)).toBe(best[0]);
        },
      ),
      { numRuns: 400 },
    );
  });

  const doors = (part: Partial<ReturnType<typeof defaultDoor>> = {}) =>
    wantedFaces([{ ...defaultDoor('d'), width: 380, height: 720, count: 4, backed: true, trim: 10, ...part }]);
  const [leaf] = clearFaces({ length: 1650 }, { count: 1, width: 210 }, 2.4);

  test('four doors of 720 x 380 out of eight leaves 210 x 1,650: two lengths, two abreast, none to spare (TRADE 11 c)', () => {
    if (!leaf) throw new Error('no face');
    expect(doors()).toHaveLength(8);
    expect(leavesFor(doors(), { face: leaf }, 2.4)).toBe(8);
    expect(handOut(doors(), [[{ face: leaf, leaves: 8 }]], 2.4)).toEqual([{ wanted: 8, given: 8, used: 8 }]);
    expect(handOut(doors(), [[{ face: leaf, leaves: 7 }]], 2.4)).toEqual([{ wanted: 8, given: 6, used: 6 }]);
    // Taller than the leaf is long, none; in three rows, it can be had.
    expect(leavesFor(doors({ height: 2400 }), { face: leaf }, 2.4)).toBeNull();
    const rows = { match: 'book', rows: 3 } as const;
    // 8 faces of 3 rows of 807, two to a leaf's length and two abreast.
    expect(leavesFor(doors({ height: 2400, ends: rows }), { face: leaf }, 2.4)).toBe(24);
    expect(leavesFor(doors({ height: 1500, ends: { ...rows, rows: 2 } }), { face: leaf }, 2.4)).toBe(16);
  });

  test('faces of one size take the least leaves there are, and never fewer than all pieces need', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 1600 }),
        fc.integer({ min: 100, max: 600 }),
        fc.integer({ min: 1, max: 9 }),
        (height, width, count) => {
          if (!leaf) throw new Error('no face');
          const faces = doors({ height, width, count, trim: 0 });
          const abreast = Math.ceil(width / 210);
          const lengths = piecesAlong(leaf, { length: height, width: width / abreast }, 2.4);
          expect(leavesFor(faces, { face: leaf }, 2.4)).toBe(Math.ceil(faces.length / lengths) * abreast);
        },
      ),
      { numRuns: 100 },
    );
  });

  test('faces of several sizes take the least leaves of all ways of sharing them out', () => {
    const sizes = fc.array(fc.integer({ min: 20, max: 140 }), { minLength: 1, maxLength: 7 });
    const spoilt = fc.array(fc.tuple(fc.integer({ min: 0, max: 180 }), fc.integer({ min: 1, max: 30 })), {
      maxLength: 1,
    });
    fc.assert(
      fc.property(sizes, spoilt, (lengths, bad) => {
        const [face] = clearFaces(
          { length: 200, spoilt: bad.map(([from, long]) => ({ id: 's', from, to: from + long })) },
          { count: 1, width: 100 },
          2,
        );
        if (!face) throw new Error('no face');
        const rows = lengths.map((length) => ({ length, width: 50 }));
        // Whatever order they are taken in, each in turn on the leaf begun last or on a new one: one of the orders is the best.
        const best = (left: readonly number[], at: number): number => {
          if (left.length === 0) return 0;
          let least = Infinity;
          for (const [i, length] of left.entries()) {
            const rest = left.filter((_, k) => k !== i);
            for (const [from, more] of [
              [at, 0],
              [0, 1],
            ] as const) {
              let x = from;
              while (x + length <= 200 && bad.some(([b, long]) => b < x + length && b + long > x)) x++;
              if (x + length <= 200) least = Math.min(least, more + best(rest, x + length + 2));
            }
          }
          return least;
        };
        if (lengths.length > 5) return;
        const found = fewestPackets(rows, face, 2);
        const truth = best(lengths, 1000);
        expect(found ?? Infinity).toBe(truth);
      }),
      { numRuns: 150 },
    );
    // First fit takes a leaf more: 60 + 60 + 80 and 100 + 100 on two leaves of 204.
    const [face] = clearFaces({ length: 204 }, { count: 1, width: 100 }, 2);
    const rows = [100, 100, 80, 60, 60].map((length) => ({ length, width: 50 }));
    expect(face && fewestPackets(rows, face, 2)).toBe(2);
  });

  test('every board to buy gives all faces and its spare leaves, and a micrometre thinner does not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 1400 }),
        fc.integer({ min: 150, max: 700 }),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 0, max: 2 }),
        (height, width, count, spare) => {
          const faces = doors({ height, width, count });
          const own = shop({ height: 300 });
          const found = boardsToBuy(faces, { shop: own, way: USUAL_WAY, spare });
          expect(found.length).toBeGreaterThan(0);
          for (const { boards, length, width: wide, thickness, leaves } of found) {
            expect(wide).toBeLessThanOrEqual(300);
            expect(leavesBy(sawAt(thickness, wide, own), USUAL_WAY)).toBeGreaterThanOrEqual(leaves);
            expect(leavesBy(sawAt(thickness - 0.001, wide, own), USUAL_WAY)).toBeLessThan(leaves);
            const face = clearFaces({ length }, { count: 1, width: wide }, 0)[0];
            if (!face) throw new Error('no face');
            const stacks = Array.from({ length: boards }, () => [{ face, leaves: leaves - spare }]);
            const given = handOut(faces, stacks, own.kerf.fine).reduce((sum, one) => sum + one.given, 0);
            expect(given).toBe(faces.length);
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});
