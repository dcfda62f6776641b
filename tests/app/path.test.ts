import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { moved, type PathPoint, withOneAfter, withOneAt, without } from '../../src/app/stages/stock/path';

const figure = fc.double({ min: -3000, max: 3000, noNaN: true });
const ring = fc.array(fc.tuple(figure, figure), { minLength: 3, maxLength: 30 });
const crack = fc.array(fc.tuple(figure, figure, fc.double({ min: 0, max: 20, noNaN: true })), {
  minLength: 2,
  maxLength: 30,
});

describe('editing a path point by point', () => {
  it('adds a point halfway to the next, and taking it out gives the path back', () => {
    fc.assert(
      fc.property(ring, fc.nat(), (points, n) => {
        const place = n % points.length;
        const more = withOneAfter(points, place, true);
        expect(more).toHaveLength(points.length + 1);
        expect(without(more, place + 1)).toEqual(points);
        const [a, b] = [points[place] as PathPoint, points[(place + 1) % points.length] as PathPoint];
        expect(more[place + 1]?.[0]).toBeCloseTo((a[0] + b[0]) / 2, 6);
        expect(more[place + 1]?.[1]).toBeCloseTo((a[1] + b[1]) / 2, 6);
      }),
    );
  });

  it('goes on past the tip of a crack, in its direction, and every place keeps a width of zero or more', () => {
    expect(
      withOneAfter(
        [
          [0, 0, 4],
          [100, 20, 2],
        ],
        1,
        false,
      ),
    ).toEqual([
      [0, 0, 4],
      [100, 20, 2],
      [150, 30, 3],
    ]);
    fc.assert(
      fc.property(crack, fc.nat(), (points, n) => {
        for (const [, , width] of withOneAfter(points, n % points.length, false))
          expect(width).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  it('puts a tapped point into the nearest edge, the closing one too, and nowhere when the tap was far', () => {
    const square: PathPoint[] = [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
    ];
    expect(withOneAt(square, true, [50, 3], 10)).toEqual({ points: [[0, 0], [50, 3], ...square.slice(1)], place: 1 });
    expect(withOneAt(square, true, [-4, 50], 10)?.place).toBe(4);
    expect(withOneAt(square, false, [-4, 50], 10)).toBeNull();
    expect(withOneAt(square, true, [50, 50], 10)).toBeNull();
  });

  it('moves one point and keeps the width of a crack there', () => {
    expect(
      moved(
        [
          [0, 0, 4],
          [100, 20, 2],
        ],
        1,
        [90, 25],
      ),
    ).toEqual([
      [0, 0, 4],
      [90, 25, 2],
    ]);
  });
});
