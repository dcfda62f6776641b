import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyAll,
  difference,
  intersection,
  offset,
  type Polygon,
  rectangle,
  regionArea,
  regionsArea,
  rigid,
  union,
} from '../../src/geometry';

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

describe('holes that touch the edge around them', () => {
  const solid = (outer: Polygon<'face'>) => ({ outer, holes: [] });
  const slab = solid(rectangle<'face'>(0, 0, 2600, 620));

  test('are holes: a rip that begins flush on a crosscut', () => {
    // Seen with clipper2-ts 2.0.1, whose tree makes a piece of the rip.
    const crosscut = solid([
      [59.528, -0.312],
      [62.846, 633.285],
      [53.146, 633.335],
      [49.828, -0.261],
    ]);
    const rip = solid([
      [59.947, 79.686],
      [630.939, 76.696],
      [630.924, 73.796],
      [59.932, 76.786],
    ]);
    const left = difference([slab], [crosscut, rip]);
    expect(regionsArea(left) + regionsArea(intersection([slab], [crosscut, rip]))).toBeCloseTo(2600 * 620, 0);
    expect(regionsArea(intersection(left, [rip]))).toBeLessThan(1);
  });

  test('whatever is sawn away flush to what was sawn before, what is left and what is gone make up the whole', () => {
    const pieces = fc.array(
      fc.record({ at: fc.integer({ min: 50, max: 1800 }), long: fc.integer({ min: 80, max: 700 }) }),
      {
        minLength: 1,
        maxLength: 4,
      },
    );
    fc.assert(
      fc.property(pieces, fc.integer({ min: -40, max: 40 }), (all, tenths) => {
        const turn = rigid<'face', 'face'>(tenths / 10, 0, 60);
        const gone = all.flatMap(({ at, long }) => [
          solid(applyAll(turn, rectangle<'face'>(at - 3, -80, at, 720))),
          solid(applyAll(turn, rectangle<'face'>(at, 100, at + long, 103))),
        ]);
        const left = difference([slab], gone);
        expect(regionsArea(left) + regionsArea(intersection([slab], gone))).toBeCloseTo(2600 * 620, -1);
        expect(regionsArea(intersection(left, gone))).toBeLessThan(5);
      }),
    );
  });
});
