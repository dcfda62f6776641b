import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rounded } from '../../src/cli/rounded';

const finite = fc.double({ min: -1e12, max: 1e12, noNaN: true });

describe('rounding of what is printed', () => {
  it('moves no number by more than 0.0005, and leaves three decimals at most', () => {
    fc.assert(
      fc.property(finite, (x) => {
        const [y] = rounded([x]) as [number];
        expect(Math.abs(y - x)).toBeLessThanOrEqual(0.0005 + Math.abs(x) * 2 ** -52);
        expect(JSON.stringify(y)).toMatch(/^-?\d+(\.\d{1,3})?$/);
      }),
    );
  });

  it('is done once: rounding again changes nothing', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const once = rounded(value, ['a']);
        expect(rounded(once, ['a'])).toEqual(once);
      }),
    );
  });

  it('keeps the slope of a plane so that it is true to a micrometre over ten metres', () => {
    fc.assert(
      fc.property(fc.double({ min: -0.1, max: 0.1, noNaN: true }), (a) => {
        const { plane } = rounded({ plane: { a, c: a } }, ['a']) as { plane: { a: number; c: number } };
        expect(Math.abs((plane.a - a) * 10_000)).toBeLessThan(0.001);
        expect(JSON.stringify(plane.c)).toMatch(/^-?\d+(\.\d{1,3})?$/);
      }),
    );
  });

  it('never prints a minus zero, nor a number that JSON has not', () => {
    expect(JSON.stringify(rounded([-0, -0.0001]))).toBe('[0,0]');
    expect(Object.is((rounded([-0.0001]) as number[])[0], 0)).toBe(true);
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY]) expect(() => rounded({ a: [bad] })).toThrow(/\/a\/0/);
  });

  it('keeps texts, nulls and flags, and prints typed arrays as lists', () => {
    expect(rounded({ a: null, b: 'x', c: true, d: Float32Array.of(0.5, 1) })).toEqual({
      a: null,
      b: 'x',
      c: true,
      d: [0.5, 1],
    });
  });
});
