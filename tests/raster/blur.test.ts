import { assert, double, integer, property } from 'fast-check';
import { expect, it } from 'vitest';
import { blur } from '../../src/raster';

const [WIDTH, HEIGHT] = [31, 27];

/** A Gaussian cut at three sigma with weights that add up to 1, off its middle by d. */
function weight(sigma: number, d: number): number {
  const reach = Math.max(1, Math.ceil(3 * sigma));
  const at = (i: number) => (Math.abs(i) > reach ? 0 : Math.exp((-i * i) / (2 * sigma * sigma)));
  let sum = 0;
  for (let i = -reach; i <= reach; i++) sum += at(i);
  return at(d) / sum;
}

it('a point of light is spread as the Gaussian says, across and down alike', () => {
  assert(
    property(
      double({ min: 0.3, max: 3.9, noNaN: true }),
      double({ min: 0.3, max: 3.9, noNaN: true }),
      (sigmaX, sigmaY) => {
        const data = new Float32Array(WIDTH * HEIGHT);
        data[13 * WIDTH + 15] = 1;
        blur({ width: WIDTH, height: HEIGHT, data }, sigmaX, sigmaY).data.forEach((x, i) => {
          const [c, r] = [(i % WIDTH) - 15, Math.floor(i / WIDTH) - 13];
          expect(x).toBeCloseTo(weight(sigmaX, c) * weight(sigmaY, r), 6);
        });
      },
    ),
    { numRuns: 30 },
  );
});

it('leaves an even picture even up to its edges', () => {
  assert(
    property(integer({ min: 1, max: 9 }), double({ min: 0.3, max: 8, noNaN: true }), (height, sigma) => {
      const even = { width: WIDTH, height, data: new Float32Array(WIDTH * height).fill(40) };
      for (const x of blur(even, sigma).data) expect(x).toBeCloseTo(40, 3);
    }),
    { numRuns: 30 },
  );
});
