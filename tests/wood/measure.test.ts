import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boardFeet, QUARTERS, surfaceMeasure, tally } from '../../src/wood';
import examples from '../fixtures/worked_examples.json';

const inch = 25.4;
const named = (prefix: string) => examples.examples.filter(({ id }) => id.startsWith(prefix));

describe('board feet', () => {
  test.each(named('bf-'))('$id ($source)', (example) => {
    const { T, W, L, T_in, W_in, L_in } = example.inputs as Record<string, number>;
    const piece = {
      thickness: (T ?? T_in ?? 0) * inch,
      width: (W ?? W_in ?? 0) * inch,
      length: (L ?? L_in ?? 0) * inch,
    };
    const { bf, price_at_20_per_bf: price } = example.published_output as { bf: number; price_at_20_per_bf?: number };
    expect(boardFeet(piece)).toBeCloseTo(bf, 9);
    if (price !== undefined) expect(boardFeet(piece) * 20).toBeCloseTo(price, 9);
  });

  test('a board foot is 0.002359737 m3 (READ), and thinner stock than an inch counts as an inch', () => {
    expect(1e9 / boardFeet({ thickness: 1000, width: 1000, length: 1000 }) / 1e9).toBeCloseTo(0.002359737, 9);
    expect(boardFeet({ thickness: 0.5 * inch, width: 12 * inch, length: 12 * inch })).toBeCloseTo(1, 9);
  });
});

describe('surface measure', () => {
  test.each(named('sm-'))('$id ($source, after NHLA)', (example) => {
    const { width_in, length_ft } = example.inputs as { width_in: number; length_ft: number };
    const { SM } = example.published_output as { SM: number };
    expect(surfaceMeasure({ width: width_in * inch, length: length_ft * 12 * inch })).toBe(SM);
  });

  test('parts of a foot in length are dropped, fractions of an inch in width are not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 4, max: 240 }),
        fc.integer({ min: 4, max: 20 }),
        fc.integer({ min: 0, max: 11 }),
        (eighths, feet, over) => {
          const width = (eighths / 8) * inch;
          const whole = surfaceMeasure({ width, length: feet * 304.8 });
          expect(surfaceMeasure({ width, length: (feet * 12 + over) * inch })).toBe(whole);
          expect(Math.abs(whole - (eighths / 8) * (feet / 12))).toBeLessThanOrEqual(0.5 + 1e-9);
        },
      ),
    );
  });

  test('exact halves go up and down in turn over a pile (from memory)', () => {
    const half = { thickness: 2 * inch, width: 9 * inch, length: 6 * 304.8 };
    expect(surfaceMeasure(half, 'up')).toBe(5);
    expect(surfaceMeasure(half, 'down')).toBe(4);
    const other = { thickness: inch, width: 8 * inch, length: 12 * 304.8 };
    expect(tally([half, other, half, half]).surface).toBe(5 + 8 + 4 + 5);
    expect(tally([half, other, half]).boardFeet).toBeCloseTo(2 * 5 + 8 + 2 * 4, 9);
  });

  test('a piece without width is refused', () => {
    expect(() => surfaceMeasure({ width: 0, length: 300 })).toThrow(expect.objectContaining({ where: '/width' }));
  });
});

test('planing 8/4 on two sides leaves 1 3/4 in (trade listing)', () => {
  const eight = QUARTERS.find(({ name }) => name === '8/4');
  expect(eight?.surfaced).toBeCloseTo(1.75 * inch, 9);
  for (const { rough, surfaced } of QUARTERS) expect(rough - surfaced).toBeLessThanOrEqual(0.25 * inch + 1e-9);
});
