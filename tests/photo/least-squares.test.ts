import fc from 'fast-check';
import { expect, test } from 'vitest';
import { minimise } from '../../src/photo/least-squares';

test('a straight line through points: the closed form, covariance included', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 4, maxLength: 12 }), (ys) => {
      const n = ys.length;
      const sigma = 0.5;
      const fit = minimise({
        start: new Float64Array(2),
        step: Float64Array.of(1e-3, 1e-3),
        rows: n,
        residuals: (p, out) => {
          ys.forEach((y, x) => {
            out[x] = ((p[0] as number) + (p[1] as number) * x - y) / sigma;
          });
        },
      });
      const sx = (n * (n - 1)) / 2;
      const sxx = ((n - 1) * n * (2 * n - 1)) / 6;
      const sy = ys.reduce((a, b) => a + b, 0);
      const sxy = ys.reduce((sum, y, x) => sum + x * y, 0);
      const det = n * sxx - sx * sx;
      expect(fit.p[0]).toBeCloseTo((sxx * sy - sx * sxy) / det, 5);
      expect(fit.p[1]).toBeCloseTo((n * sxy - sx * sy) / det, 5);
      expect(fit.covariance[0]).toBeCloseTo((sigma ** 2 * sxx) / det, 6);
      expect(fit.covariance[3]).toBeCloseTo((sigma ** 2 * n) / det, 6);
      expect(fit.covariance[1]).toBeCloseTo((-(sigma ** 2) * sx) / det, 6);
    }),
  );
});

test("finds the floor of Rosenbrock's valley (Rosenbrock 1960: 0 at 1, 1)", () => {
  const fit = minimise(
    {
      start: Float64Array.of(-1.2, 1),
      step: Float64Array.of(1e-5, 1e-5),
      rows: 2,
      residuals: ([x, y], out) => {
        out[0] = 10 * ((y as number) - (x as number) ** 2);
        out[1] = 1 - (x as number);
      },
    },
    200,
  );
  expect(fit.cost).toBeLessThan(1e-6);
  expect(fit.p[0]).toBeCloseTo(1, 2);
});
