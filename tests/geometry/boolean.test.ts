import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { offset, type Polygon, regionArea, union } from '../../src/geometry';

const areaOf = (ring: Polygon<'face'>) =>
  union([{ outer: ring, holes: [] }]).reduce((sum, r) => sum + regionArea(r), 0);

describe('rings with spurs', () => {
  // The clipping library alone runs out of memory on this ring, so a job file that held it would have hung the app.
  const spur: Polygon<'face'> = [
    [0, 0],
    [0, 5],
    [30, 5],
    [30, 2],
    [5, 2],
    [5, 0],
    [10, 0],
    [15, 0],
    [20, 0],
    [15, 0],
    [10, 0],
    [5, 0],
  ];

  test('have the area of the ring alone, united and grown', () => {
    // 5 x 5 and 25 x 3.
    expect(areaOf(spur)).toBeCloseTo(100, 6);
    expect(offset([{ outer: spur, holes: [] }], 1, 'mitre').reduce((sum, r) => sum + regionArea(r), 0)).toBeGreaterThan(
      100,
    );
  });

  test('a spur put anywhere on a rectangle changes nothing, wherever the ring begins', () => {
    const length = fc.integer({ min: 10, max: 500 });
    fc.assert(
      fc.property(
        length,
        length,
        fc.nat(3),
        fc.nat(6),
        fc.integer({ min: 1, max: 300 }),
        fc.nat(3),
        (w, h, at, start, out, way) => {
          const box: [number, number][] = [
            [0, 0],
            [w, 0],
            [w, h],
            [0, h],
          ];
          const [x, y] = box[at] as [number, number];
          const [dx, dy] = [
            [1, 0],
            [-1, 0],
            [0, 1],
            [0, -1],
          ][way] as [number, number];
          const ring = [
            ...box.slice(0, at + 1),
            [x + dx * out, y + dy * out] as [number, number],
            [x, y] as [number, number],
            ...box.slice(at + 1),
          ];
          const turned = [...ring.slice(start % ring.length), ...ring.slice(0, start % ring.length)];
          expect(areaOf(turned)).toBeCloseTo(w * h, 6);
        },
      ),
      { numRuns: 200 },
    );
  });

  test('a ring that is all spur has no area', () => {
    expect(
      areaOf([
        [0, 0],
        [10, 0],
        [5, 0],
        [20, 0],
      ]),
    ).toBe(0);
  });
});
