import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { densify, distanceToRing, type Point } from '../../src/geometry';
import { followEdge, nearestEdge } from '../../src/photo';
import { cheapestWay } from '../../src/photo/cheapest-way';
import { rasterOf } from '../../src/raster';
import { drawSlab } from './slab-scene';

/** Points of an open line, no more than 2 mm apart. */
const dense = (line: readonly Point<'face'>[]): Point<'face'>[] =>
  densify([...line, ...line.slice(1, -1).toReversed()], 2);

describe('the line that follows the edge', () => {
  const scene = drawSlab({ wood: 'cherry', floor: 'concrete', degrees: 9 });
  // The lower side is the first half of the outline, 2 mm apart.
  const edge = scene.outline.slice(0, scene.outline.length / 2);

  it.each([
    [40, 115],
    [300, 375],
    [480, 620],
  ])('lies on the wood from its point %i to %i, where a straight line does not', (i, j) => {
    const [from, to] = [edge[i] as Point<'face'>, edge[j] as Point<'face'>];
    const line = followEdge(scene.picture, from, to);
    expect(line[0]).toEqual(from);
    expect(line.at(-1)).toEqual(to);
    const worst = (points: readonly Point<'face'>[]) =>
      Math.max(...points.map((p) => distanceToRing(p, scene.outline)));
    expect(worst(dense(line))).toBeLessThan(0.8);
    expect(worst(dense([from, to]))).toBeGreaterThan(2);
  });

  it('is drawn to the edge by points set down a little beside it', () => {
    const [a, b] = [edge[60] as Point<'face'>, edge[135] as Point<'face'>];
    const line = followEdge(scene.picture, [a[0], a[1] - 3], [b[0], b[1] + 3]);
    const off = dense(line).map((p) => distanceToRing(p, scene.outline));
    expect(off.filter((d) => d < 0.8).length / off.length).toBeGreaterThan(0.85);
  });

  it('ends where asked and stays within its window, wherever the points are', () => {
    const place = fc.tuple(fc.integer({ min: -1000, max: 1000 }), fc.integer({ min: -550, max: 550 }));
    fc.assert(
      fc.property(place, place, (from, to) => {
        const line = followEdge(scene.picture, from, to);
        expect(line[0]).toEqual(from);
        expect(line.at(-1)).toEqual(to);
        const room = Math.max(10, Math.min(60, 0.35 * Math.hypot(to[0] - from[0], to[1] - from[1])));
        for (const p of line) {
          for (const k of [0, 1] as const) {
            expect(p[k]).toBeGreaterThanOrEqual(Math.min(from[k], to[k]) - room - 5);
            expect(p[k]).toBeLessThanOrEqual(Math.max(from[k], to[k]) + room + 5);
          }
        }
      }),
      { numRuns: 25 },
    );
  });

  it('draws a point set down beside the edge onto it, and lets it be where it should not reach', () => {
    for (const i of [60, 190, 333, 480]) {
      const [x, y] = edge[i] as Point<'face'>;
      const beside: Point<'face'> = [x, y + 3];
      const drawn = nearestEdge(scene.picture, beside, 8);
      expect(distanceToRing(drawn ?? beside, scene.outline)).toBeLessThan(0.8);
      const near = nearestEdge(scene.picture, beside, 1) ?? beside;
      expect(Math.hypot(near[0] - beside[0], near[1] - beside[1])).toBeLessThan(2.5);
    }
  });

  it('runs straight where there is no edge', () => {
    const grey = { raster: rasterOf(200, 100, 1, new Uint8ClampedArray(20_000).fill(120)), mmPerPx: 1, x0: 0, y0: 0 };
    const line = followEdge(grey, [20, 50], [180, 50]);
    expect(Math.max(...line.map(([, y]) => Math.abs(y - 50)))).toBeLessThan(1.5);
    expect(nearestEdge(grey, [90, 50], 8)).toBeNull();
  });
});

describe('the cheapest way over a grid', () => {
  it('is no dearer than any of many other ways', () => {
    const grid = fc.array(fc.float({ min: Math.fround(0.05), max: 2, noNaN: true }), { minLength: 36, maxLength: 36 });
    // Steps right, up-right and down-right from the middle of the left side to wherever they lead on the right one.
    const steps = fc.array(fc.integer({ min: -1, max: 1 }), { minLength: 5, maxLength: 5 });
    fc.assert(
      fc.property(grid, steps, (prices, moves) => {
        const price = Float32Array.from(prices);
        const other = [12];
        for (const move of moves) {
          const last = other.at(-1) as number;
          const row = Math.max(0, Math.min(5, Math.floor(last / 6) + move));
          other.push(row * 6 + (last % 6) + 1);
        }
        const cost = (way: readonly number[]) =>
          way.slice(1).reduce((sum, k, i) => {
            const before = way[i] as number;
            const length = Math.hypot((k % 6) - (before % 6), Math.floor(k / 6) - Math.floor(before / 6));
            expect(length).toBeLessThan(1.5);
            return sum + length * 0.5 * ((price[k] as number) + (price[before] as number));
          }, 0);
        const way = cheapestWay(price, 6, 12, other.at(-1) as number);
        expect(way[0]).toBe(12);
        expect(way.at(-1)).toBe(other.at(-1));
        // Whole-number prices: half of 1/64 a step.
        expect(cost(way)).toBeLessThanOrEqual(cost(other) + (way.length + other.length) / 128);
      }),
    );
  });
});
