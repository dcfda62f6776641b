import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Point, rectangle } from '../../src/geometry';
import { linearSurface, type Reading } from '../../src/surface';

type At = Point<'face'>;
const read = (x: number, y: number, z: number, sigma = 0.2): Reading => ({ at: [x, y], z, sigma });

/** A 5 x 3 grid as the trade takes it, with heights of its own. */
const grid = fc
  .array(fc.integer({ min: -80, max: 80 }), { minLength: 15, maxLength: 15 })
  .map((tenths) => tenths.map((z, k) => read(-1200 + 600 * (k % 5), -250 + 250 * Math.floor(k / 5), z / 10)));
const inside = fc.record({
  x: fc.double({ min: -1199, max: 1199, noNaN: true }),
  y: fc.double({ min: -249, max: 249, noNaN: true }),
});

describe('a surface of facets', () => {
  it('passes through its readings, and between them stays between them', () => {
    fc.assert(
      fc.property(grid, inside, (readings, { x, y }) => {
        const surface = linearSurface(readings);
        for (const { at, z } of readings) expect(surface.height(at)).toBeCloseTo(z, 9);
        const z = surface.height([x, y]);
        expect(z).toBeGreaterThanOrEqual(Math.min(...readings.map((r) => r.z)) - 1e-9);
        expect(z).toBeLessThanOrEqual(Math.max(...readings.map((r) => r.z)) + 1e-9);
      }),
    );
  });

  it('gives a plane back', () => {
    fc.assert(
      fc.property(inside, fc.double({ min: -0.02, max: 0.02, noNaN: true }), ({ x, y }, slope) => {
        const plane = (u: number, v: number): number => 54 + slope * u - 0.01 * v;
        const readings = [
          [-1200, -250],
          [1200, -250],
          [1200, 250],
          [-1200, 250],
          [13, 77],
          [400, -120],
        ] as const;
        const surface = linearSurface(readings.map(([u, v]) => read(u, v, plane(u, v))));
        expect(surface.height([x, y])).toBeCloseTo(plane(x, y), 8);
      }),
    );
  });

  it('cuts the box between four readings from its least x + y (COMMANDS)', () => {
    const surface = linearSurface([read(0, 0, 0), read(100, 0, 10), read(0, 100, 10), read(100, 100, 0)]);
    expect(surface.height([50, 50])).toBeCloseTo(0, 9);
    const other = linearSurface([read(0, 0, 10), read(100, 0, 0), read(0, 100, 0), read(100, 100, 10)]);
    expect(other.height([50, 50])).toBeCloseTo(10, 9);
  });

  it('takes the nearest hull point beyond the hull (COMMANDS)', () => {
    const surface = linearSurface([read(0, 0, 1), read(100, 0, 3), read(0, 100, 5), read(100, 100, 7)]);
    expect(surface.height([50, -40])).toBeCloseTo(2, 9);
    expect(surface.height([300, 300])).toBeCloseTo(7, 9);
    expect(surface.height([-10, 25])).toBeCloseTo(2, 9);
  });

  it('is level where one reading or one line tells nothing more', () => {
    expect(linearSurface([read(0, 0, 4)]).height([900, -300])).toBe(4);
    const line = linearSurface([read(0, 0, 0), read(1000, 0, 10), read(500, 0, 2)]);
    expect(line.height([250, 400])).toBeCloseTo(1, 9);
    expect(line.height([750, -400])).toBeCloseTo(6, 9);
  });

  it('turns with the slab: a turned grid has the turned heights, off the hull too', () => {
    fc.assert(
      fc.property(grid, inside, fc.double({ min: -3, max: 3, noNaN: true }), (readings, { x, y }, angle) => {
        // The grid's diagonals follow the least x + y, which a turn changes: so only along its lines.
        const turn = ([u, v]: At): At => [
          u * Math.cos(angle) - v * Math.sin(angle),
          u * Math.sin(angle) + v * Math.cos(angle),
        ];
        const straight = linearSurface(readings);
        const turned = linearSurface(readings.map((r) => ({ ...r, at: turn(r.at) })));
        for (const p of [
          [x, -250],
          [x, 0],
          [-600, y],
          [x, -400],
          [1500, y],
        ] as At[]) {
          expect(turned.height(turn(p))).toBeCloseTo(straight.height(p), 6);
        }
      }),
    );
  });

  it('makes readings of one place one, the surer one counting more', () => {
    const surface = linearSurface([read(0, 0, 1, 0.1), read(0, 0, 2, 0.2), read(100, 0, 0), read(0, 100, 0)]);
    expect(surface.readings.length).toBe(3);
    // Weights 100 and 25: (100 x 1 + 25 x 2) / 125.
    expect(surface.height([0, 0])).toBeCloseTo(1.2, 9);
  });

  it('needs a reading', () => {
    expect(() => linearSurface([])).toThrow(RangeError);
  });
});

describe('how sure a surface of facets is', () => {
  const readings = [0, 1, 2, 3, 4].flatMap((i) =>
    [0, 1, 2].map((j) => read(600 * i, 250 * j, (0.002 * (600 * i - 1200) ** 2) / 600)),
  );
  const surface = linearSurface(readings);

  it('is as sure as the reading at a reading, less so between, and less and less beyond', () => {
    const [at, between, beyond, far] = (
      [
        [600, 250],
        [900, 250],
        [2700, 250],
        [3000, 250],
      ] as At[]
    ).map((p) => surface.sigma(p));
    expect(at).toBeCloseTo(0.2, 6);
    expect(between).toBeGreaterThan(at as number);
    expect(far).toBeGreaterThan(beyond as number);
  });

  it('says no more than twice what the face strays in all, however far', () => {
    const mean = readings.reduce((sum, r) => sum + r.z, 0) / readings.length;
    const stray = Math.sqrt(readings.reduce((sum, r) => sum + (r.z - mean) ** 2, 0) / readings.length);
    expect(surface.sigma([90_000, 0])).toBeLessThanOrEqual(Math.hypot(0.2, 2 * stray) + 1e-9);
  });
});

describe('the spots that decide over a region', () => {
  it('hold any plane as the whole surface does', () => {
    const slope = fc.double({ min: -0.02, max: 0.02, noNaN: true });
    const corner = fc.tuple(fc.integer({ min: -1100, max: -100 }), fc.integer({ min: -240, max: -10 }));
    const size = fc.tuple(fc.integer({ min: 20, max: 1200 }), fc.integer({ min: 20, max: 245 }));
    fc.assert(
      fc.property(grid, slope, slope, corner, size, (readings, a, b, [x0, y0], [length, width]) => {
        const surface = linearSurface(readings);
        const outer = rectangle<'face'>(x0, y0, x0 + length, y0 + width);
        const least = Math.min(...surface.spotsOver({ outer, holes: [] }).map(([x, y, z]) => z - a * x - b * y));
        for (let i = 0; i <= 20; i++) {
          for (let j = 0; j <= 20; j++) {
            const [x, y] = [x0 + (length * i) / 20, y0 + (width * j) / 20];
            expect(surface.height([x, y]) - a * x - b * y).toBeGreaterThanOrEqual(least - 1e-9);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  it('stand at readings inside, at corners and where edges cross the triangulation, a row of readings along an edge included', () => {
    const readings = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => read(100 * i, 100 * j, i * j)));
    const spots = linearSurface(readings).spotsOver({ outer: rectangle<'face'>(0, 0, 150, 100), holes: [] });
    const places = new Set(spots.map(([x, y]) => `${Math.round(x)} ${Math.round(y)}`));
    // Four readings (all of them on the edge), two corners, and x = 150 crosses one diagonal.
    expect([...places].sort()).toEqual(['0 0', '0 100', '100 0', '100 100', '150 0', '150 100', '150 50'].sort());
  });
});
