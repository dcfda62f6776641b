import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leastAround, meanAround, medianAround, mostAround } from '../../src/photo/running';

/** Each window is held against the same taken anew in every place. */
const around = (values: readonly number[], half: number, of: (part: number[]) => number): number[] =>
  values.map((_, i) => of(values.slice(Math.max(0, i - half), i + half + 1)));

const line = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 60 });
const half = fc.integer({ min: 0, max: 70 });

describe('windows that run along a line', () => {
  it('hold the greatest, the least and the mean of their values, also where they reach beyond the line', () => {
    fc.assert(
      fc.property(line, half, (values, n) => {
        expect([...mostAround(values, n)]).toEqual(around(values, n, (part) => Math.max(...part)));
        expect([...leastAround(Float64Array.from(values), n)].map((v) => v + 0)).toEqual(
          around(values, n, (part) => Math.min(...part)),
        );
        const means = around(values, n, (part) => part.reduce((a, b) => a + b, 0) / part.length);
        meanAround(values, n).forEach((mean, i) => {
          expect(mean).toBeCloseTo(means[i] as number, 9);
        });
      }),
    );
  });

  it('hold the median of their values, of an even number the upper one', () => {
    fc.assert(
      fc.property(line, half, (values, n) => {
        const medians = around(values, n, (part) => part.sort((a, b) => a - b)[part.length >> 1] as number);
        expect([...medianAround(Int32Array.from(values), n, 41)]).toEqual(medians);
      }),
    );
  });
});
