import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flatten, flattenInput } from '../../src/flattening';
import { rectangle } from '../../src/geometry';
import { checked } from '../../src/job';
import type { Spot3 } from '../../src/surface';
import { problemOf } from '../support/problem-of';
import { blank, blankA, face, facesOf, mm, run, shop } from './blanks';

type P = readonly [number, number];

describe('what is to spare', () => {
  it('comes off both faces alike, or off the face whose figure is not kept; the board is as thick either way', () => {
    fc.assert(
      fc.property(face(54), face(0), blank, (u, v, polygon) => {
        const finished = 20;
        const [whole, even, top, bottom] = [
          run(u, v, polygon),
          ...(['balanced', 'keep top', 'keep bottom'] as const).map((spare) => run(u, v, polygon, { finished, spare })),
        ] as const;
        if (!whole || !even || !top || !bottom || even.short > 0) return;
        const off = (flat: typeof whole) => [mm(flat, 'lost over'), mm(flat, 'lost under')] as const;
        const [over, under] = off(whole);
        const spare = mm(whole, 'finished') - finished;
        expect(off(even)[0]).toBeCloseTo(over + spare / 2, 6);
        expect(off(even)[1]).toBeCloseTo(under + spare / 2, 6);
        expect(off(top)[0]).toBeCloseTo(over, 6);
        expect(off(top)[1]).toBeCloseTo(under + spare, 6);
        expect(off(bottom)[0]).toBeCloseTo(over + spare, 6);
        expect(off(bottom)[1]).toBeCloseTo(under, 6);
        for (const flat of [even, top, bottom]) expect(mm(flat, 'finished')).toBeCloseTo(finished, 6);
      }),
      { numRuns: 12 },
    );
  });
});

describe('an accepted skip', () => {
  it('gains what its curve says, and planing misses no more of that face, and nothing of the other', () => {
    fc.assert(
      fc.property(
        face(54),
        face(0),
        blank,
        fc.constantFrom('top' as const, 'bottom' as const),
        (u, v, polygon, side) => {
          const clean = run(u, v, polygon);
          const point = clean.accept.filter((each) => each.face === side && each.skip <= 0.05 + 1e-9).at(-1);
          const flat = run(u, v, polygon, { accept: { face: side, skip: 0.05 } });
          const gained = mm(flat, 'finished') - mm(clean, 'finished');
          expect(gained).toBeCloseTo((point?.thickest ?? clean.thickest) - clean.thickest, 6);
          const faces = facesOf(u, v);
          const [[left, low], , [right, high]] = polygon as readonly (readonly [number, number])[] as [P, P, P];
          const missed = { top: 0, bottom: 0 };
          for (let i = 0; i < 50; i++) {
            for (let k = 0; k < 50; k++) {
              const at = [left + ((i + 0.5) / 50) * (right - left), low + ((k + 0.5) / 50) * (high - low)] as const;
              const on = ({ a, b, c }: typeof flat.plane) => a * at[0] + b * at[1] + c;
              if (faces.top.height(at) < on(flat.finish.upper) - 0.002) missed.top += 1 / 2500;
              if (faces.bottom.height(at) > on(flat.finish.under) + 0.002) missed.bottom += 1 / 2500;
            }
          }
          // Both measure by grids of their own, of 700 cells and of 2,500: an edge of the missed part may fall otherwise in each row of cells.
          expect(missed[side]).toBeLessThan(0.065);
          expect(missed[side === 'top' ? 'bottom' : 'top']).toBe(0);
          expect(flat.budget.slice(1).reduce((sum, entry) => sum + entry.mm, 0)).toBeCloseTo(mm(flat, 'rough'), 6);
        },
      ),
      { numRuns: 6 },
    );
  });
});

describe('a hole in a blank', () => {
  const grid = (z: (x: number, y: number) => number): Spot3[] =>
    Array.from({ length: 21 * 11 }, (_, k) => {
      const [x, y] = [-1000 + 100 * (k % 21), -200 + 40 * Math.floor(k / 21)];
      return [x, y, z(x, y)];
    });
  const dented = grid((x, y) => (x === 0 && y === 0 ? 40 : 54));
  const flat = grid(() => 0);

  it('need not be met: a dent of 14 mm inside it costs nothing, and costs what it did beside it', () => {
    expect(run(dented, flat, blankA).thickest).toBeCloseTo(40, 6);
    const hole = rectangle<'face'>(-120, -60, 120, 60);
    expect(run(dented, flat, blankA, { holes: [hole] }).thickest).toBeCloseTo(54, 6);
    const beside = rectangle<'face'>(300, -60, 500, 60);
    expect(run(dented, flat, blankA, { holes: [beside] }).thickest).toBeCloseTo(40, 6);
  });

  it('that reaches out of the blank is refused', () => {
    const holes = [rectangle<'face'>(900, -60, 1200, 60)];
    const input = { surfaces: { top: dented, bottom: flat }, blanks: [{ id: 'a', polygon: blankA, holes }], ...shop };
    expect(problemOf(() => flatten(checked(flattenInput, input)))).toMatchObject({ where: '/blanks/0/holes/0' });
  });
});
