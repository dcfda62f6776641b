import fc from 'fast-check';
import { expect, it } from 'vitest';
import { crossesItself, type Point } from '../../src/geometry';

/** Corners seen from the middle under growing angles: such a ring never crosses itself. */
const star = fc.array(fc.integer({ min: 50, max: 500 }), { minLength: 4, maxLength: 12 }).map((radii) =>
  radii.map((r, i): Point<'top'> => {
    const t = (2 * Math.PI * i) / radii.length;
    return [r * Math.cos(t), r * Math.sin(t)];
  }),
);

it('a ring seen whole from its middle does not cross itself, wherever it begins and whichever way it turns', () => {
  fc.assert(
    fc.property(star, fc.nat(11), (ring, shift) => {
      const k = shift % ring.length;
      const turned = [...ring.slice(k), ...ring.slice(0, k)];
      expect(crossesItself(turned)).toBe(false);
      expect(crossesItself(turned.toReversed())).toBe(false);
    }),
  );
});

it('it does once two corners next to each other change places in a ring that bulges all around', () => {
  fc.assert(
    fc.property(fc.integer({ min: 4, max: 20 }), fc.nat(19), (count, at) => {
      const ring = Array.from({ length: count }, (_, i): Point<'top'> => {
        const t = (2 * Math.PI * i) / count;
        return [300 * Math.cos(t), 200 * Math.sin(t)];
      });
      const [i, j] = [at % count, (at + 1) % count];
      [ring[i], ring[j]] = [ring[j] as Point<'top'>, ring[i] as Point<'top'>];
      expect(crossesItself(ring)).toBe(true);
    }),
  );
});

it('it does where an edge runs through a corner, or straight back on itself', () => {
  expect(
    crossesItself<'top'>([
      [0, 0],
      [10, 0],
      [10, 10],
      [5, 0],
      [0, 10],
    ]),
  ).toBe(true);
  expect(
    crossesItself<'top'>([
      [0, 0],
      [10, 0],
      [4, 0],
      [4, 8],
    ]),
  ).toBe(true);
});
