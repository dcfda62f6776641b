import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { leafCount } from '../../src/leaves';
import examples from '../fixtures/worked_examples.json';

const board = (thickness: number) => ({ length: 1650, width: 210, thickness });

interface Saw {
  thickness: number;
  leaf: number;
  kerf: number;
  dressing: number;
  faceAllowance: number;
  lastPiece: number;
}
const count = ({ thickness, leaf, ...rest }: Saw) =>
  leafCount({ board: board(thickness), leaf: { thickness: leaf, sanding: 0 }, ...rest });

/** A board sawn leaf by leaf in whole micrometres, as COMMANDS says it; no formula. */
function sawn(saw: Saw) {
  const um = (mm: number) => Math.round(mm * 1000);
  const [t, k, p, r] = [saw.leaf, saw.kerf, saw.dressing, saw.lastPiece].map(um) as [number, number, number, number];
  let rest = um(saw.thickness) - um(saw.faceAllowance);
  const cuts: number[] = [];
  for (;;) {
    const dressed = cuts.length === 0 ? rest : rest - p;
    if (dressed - t - k < r) break;
    cuts.push(um(saw.thickness) - dressed + t);
    rest = dressed - t - k;
  }
  const last = cuts.length === 0 ? rest : rest - p;
  return r === 0 && last >= t
    ? { leaves: cuts.length + 1, remnant: 0, cuts }
    : { leaves: cuts.length, remnant: rest, cuts };
}

describe('leaf count', () => {
  test.each([
    [
      'T 50, t 2.5, k 1.2, r 6 (TRADE 4, derived)',
      11,
      { thickness: 50, leaf: 2.5, kerf: 1.2, dressing: 0, faceAllowance: 0, lastPiece: 6 },
    ],
    [
      'T 43, t 2.6, k 1.3, p 0.5, r 8 (TRADE 4, derived)',
      8,
      { thickness: 43, leaf: 2.6, kerf: 1.3, dressing: 0.5, faceAllowance: 0, lastPiece: 8 },
    ],
    [
      '46, without dressing (TRADE 11 c)',
      9,
      { thickness: 46, leaf: 2.6, kerf: 1.3, dressing: 0, faceAllowance: 0, lastPiece: 8 },
    ],
  ])('%s: %d leaves', (_, leaves, saw) => {
    expect(count(saw).leaves).toBe(leaves);
  });

  test('46 x 210 x 1,650, sawn 2.6, kerf 1.3, dressing 0.5, last 8: 8 leaves, remnant 11.3 (TRADE 11 c)', () => {
    const found = leafCount({
      board: board(46),
      leaf: { thickness: 2, sanding: 0.6 },
      kerf: 1.3,
      dressing: 0.5,
      faceAllowance: 0,
      lastPiece: 8,
    });
    expect(found).toEqual({ leaves: 8, remnant: 11.3, cuts: [2.6, 7, 11.4, 15.8, 20.2, 24.6, 29, 33.4] });
  });

  test('12 boards of 1 1/8 in come out of 16.6 in at a 9/32 kerf, out of 15.2 in at 5/32 (G. Wengert, 2000)', () => {
    const { inputs, published_output: out } = examples.examples.find(({ id }) => id === 'kerf-yield') as unknown as {
      inputs: { n: number; t_in: number; kerf_in: number[] };
      published_output: { total_in: number[] };
    };
    inputs.kerf_in.forEach((kerf, i) => {
      const saw = { leaf: inputs.t_in * 25.4, kerf: kerf * 25.4, dressing: 0, faceAllowance: 0, lastPiece: 0 };
      const total = (out.total_in[i] as number) * 25.4;
      // The published totals are rounded to a tenth of an inch.
      expect(count({ ...saw, thickness: total + 0.05 * 25.4 }).leaves).toBe(inputs.n);
      expect(count({ ...saw, thickness: total - 0.05 * 25.4 }).leaves).toBe(inputs.n - 1);
    });
  });

  test('agrees with sawing leaf by leaf on 10,000 boards, exact fits among them', () => {
    const tenth = (max: number) => fc.integer({ min: 0, max: max * 20 }).map((n) => n / 20);
    const saw = fc.record({
      thickness: fc.integer({ min: 1, max: 1600 }).map((n) => n / 20),
      leaf: fc.integer({ min: 10, max: 120 }).map((n) => n / 20),
      kerf: tenth(3),
      dressing: tenth(1),
      faceAllowance: tenth(3),
      lastPiece: fc.oneof(fc.constant(0), tenth(12)),
    });
    const exact = fc.tuple(saw, fc.integer({ min: 1, max: 20 }), fc.integer({ min: -1, max: 1 })).map(([s, n, um]) => ({
      ...s,
      thickness: s.faceAllowance + n * s.leaf + n * s.kerf + (n - 1) * s.dressing + s.lastPiece + um / 1000,
    }));
    fc.assert(
      fc.property(fc.oneof(saw, exact), (s) => {
        fc.pre(s.faceAllowance <= s.thickness);
        const { leaves, remnant, cuts } = count(s);
        expect({ leaves, remnant: Math.round(remnant * 1000), cuts: cuts.map((c) => Math.round(c * 1000)) }).toEqual(
          sawn(s),
        );
      }),
      { numRuns: 10_000 },
    );
  });

  test('each cut begins where COMMANDS puts it, and the last piece is kept', () => {
    const saw = { thickness: 61.37, leaf: 2.613, kerf: 1.31, dressing: 0.457, faceAllowance: 1.2, lastPiece: 6.4 };
    const { cuts, remnant, leaves } = count(saw);
    cuts.forEach((cut, n) => {
      const i = n + 1;
      expect(cut).toBeCloseTo(1.2 + i * 2.613 + (i - 1) * (1.31 + 0.457), 9);
    });
    expect(cuts).toHaveLength(leaves);
    expect(remnant).toBeCloseTo(61.37 - ((cuts.at(-1) as number) + 1.31), 9);
    expect(remnant).toBeGreaterThanOrEqual(6.4);
    expect(remnant).toBeLessThan(6.4 + 2.613 + 1.31 + 0.457);
  });

  test('three leaves of exactly a third each: rounding of binary fractions loses none', () => {
    expect(count({ thickness: 0.3, leaf: 0.1, kerf: 0, dressing: 0, faceAllowance: 0, lastPiece: 0 }).leaves).toBe(3);
    expect(count({ thickness: 8.1, leaf: 2.7, kerf: 0, dressing: 0, faceAllowance: 0, lastPiece: 0 }).leaves).toBe(3);
  });

  test('a board as thin as a leaf is a leaf when nothing must be left, and none when something must', () => {
    const saw = { thickness: 3.5, leaf: 2.5, kerf: 1.2, dressing: 0.5, faceAllowance: 1, lastPiece: 0 };
    expect(count(saw)).toEqual({ leaves: 1, remnant: 0, cuts: [] });
    expect(count({ ...saw, lastPiece: 0.001 })).toEqual({ leaves: 0, remnant: 2.5, cuts: [] });
  });

  test('more planing than board is refused', () => {
    const saw = { thickness: 20, leaf: 2.5, kerf: 1.2, dressing: 0.5, faceAllowance: 20.001, lastPiece: 0 };
    expect(() => count(saw)).toThrow(expect.objectContaining({ where: '/faceAllowance' }));
  });
});

test('a length in another unit is said, and not counted to the end of memory', () => {
  const saw = { leaf: 2.6, kerf: 1.3, dressing: 0.5, faceAllowance: 1, lastPiece: 8 };
  expect(() => count({ ...saw, thickness: 1e9 })).toThrow(
    expect.objectContaining({ where: '/board/thickness', message: expect.stringContaining('10000 leaves of 2.6') }),
  );
  expect(count({ ...saw, thickness: 3000 }).cuts.length).toBeGreaterThan(600);
});
