import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Point, type Triangle, triangulate } from '../../src/geometry';

type At = Point<'face'>;

const square = (points: readonly At[], [a, b, c]: Triangle): number => {
  const [p, q, r] = [points[a] as At, points[b] as At, points[c] as At];
  return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
};

/** How far inside the triangle's circumcircle a point lies, mm; negative outside. */
function depthInCircle(points: readonly At[], triangle: Triangle, p: At): number {
  const [a, b, c] = triangle.map((i) => points[i] as At) as [At, At, At];
  const d = 2 * (a[0] * (b[1] - c[1]) + b[0] * (c[1] - a[1]) + c[0] * (a[1] - b[1]));
  const [aa, bb, cc] = [a, b, c].map(([x, y]) => x * x + y * y) as [number, number, number];
  const x = (aa * (b[1] - c[1]) + bb * (c[1] - a[1]) + cc * (a[1] - b[1])) / d;
  const y = (aa * (c[0] - b[0]) + bb * (a[0] - c[0]) + cc * (b[0] - a[0])) / d;
  return Math.hypot(a[0] - x, a[1] - y) - Math.hypot(p[0] - x, p[1] - y);
}

const hasEdge = (edges: readonly (readonly [number, number])[], i: number, j: number): boolean =>
  edges.some(([a, b]) => (a === i && b === j) || (a === j && b === i));

const somePoints = fc
  .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 0, max: 12 })), {
    minLength: 3,
    maxLength: 40,
    selector: String,
  })
  .map((points) => points as unknown as At[]);

describe("Delaunay's triangulation", () => {
  it('has no point inside any circumcircle, though many lie on one (random points of a coarse grid)', () => {
    fc.assert(
      fc.property(somePoints, (points) => {
        for (const triangle of triangulate(points).triangles) {
          for (const p of points) expect(depthInCircle(points, triangle, p)).toBeLessThan(1e-6);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('covers the hull once: the triangles add up to the area that the rim encloses', () => {
    fc.assert(
      fc.property(somePoints, (points) => {
        const { triangles, rim } = triangulate(points);
        const filled = triangles.reduce((sum, t) => sum + Math.abs(square(points, t)), 0);
        if (triangles.length === 0) return;
        const around = rim.reduce((sum, [i, j]) => {
          const [p, q] = [points[i] as At, points[j] as At];
          return sum + p[0] * q[1] - p[1] * q[0];
        }, 0);
        expect(filled).toBeCloseTo(Math.abs(around), 6);
      }),
      { numRuns: 100 },
    );
  });

  it('cuts every box of a grid from its least x + y (the tie rule of COMMANDS), whatever the order of the points', () => {
    const grid = [0, 100, 250].flatMap((x) => [-225.2, -112.8, 0, 112.2].map((y): At => [x, y]));
    for (const points of [grid, [...grid].reverse()]) {
      const at = (x: number, y: number): number => points.findIndex((p) => p[0] === x && p[1] === y);
      const { edges } = triangulate(points);
      expect(hasEdge(edges, at(0, -225.2), at(100, -112.8))).toBe(true);
      expect(hasEdge(edges, at(100, 0), at(250, 112.2))).toBe(true);
      expect(hasEdge(edges, at(100, -225.2), at(0, -112.8))).toBe(false);
    }
  });

  it('fans six points of one circle from the least x + y', () => {
    const points = [10, 70, 130, 190, 250, 310].map((degrees): At => {
      const t = (degrees * Math.PI) / 180;
      return [500 + 100 * Math.cos(t), 100 * Math.sin(t)];
    });
    // The point at 250 degrees has cos + sin = -1.28, the least of the six.
    const { edges, triangles } = triangulate(points);
    expect(triangles.length).toBe(4);
    for (const other of [0, 1, 2]) expect(hasEdge(edges, 4, other)).toBe(true);
  });

  it('keeps the readings of a turned grid on its rim, though rounding puts some of them a hair inside', () => {
    const points = [0, 1, 2, 3, 4].flatMap((i) =>
      [0, 1, 2].map(
        (j): At => [
          i * 500 * Math.cos(0.31) - j * 200 * Math.sin(0.31),
          i * 500 * Math.sin(0.31) + j * 200 * Math.cos(0.31),
        ],
      ),
    );
    const { rim, triangles } = triangulate(points);
    expect(rim.length).toBe(12);
    expect(triangles.length).toBe(16);
  });

  it('gives points on one line a rim between neighbours', () => {
    const { triangles, rim } = triangulate([
      [300, 3],
      [100, 1],
      [200, 2],
    ]);
    expect(triangles).toEqual([]);
    expect(rim).toEqual([
      [1, 2],
      [2, 0],
    ]);
  });
});
