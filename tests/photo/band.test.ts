import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sampleBand, shortestPath, stationsAlong, stepAcross } from '../../src/photo/band';
import { rasterOf } from '../../src/raster';

const cells = fc
  .record({ rows: fc.integer({ min: 1, max: 5 }), columns: fc.integer({ min: 1, max: 4 }) })
  .chain(({ rows, columns }) =>
    fc.record({
      columns: fc.constant(columns),
      cost: fc
        .array(fc.integer({ min: -20, max: 20 }), { minLength: rows * columns, maxLength: rows * columns })
        .map((list) => Float32Array.from(list)),
    }),
  );

/** Every path there is, its cost told. */
function cheapest(cost: Float32Array, columns: number, most: number, bend: number): number {
  const rows = cost.length / columns;
  let best = Number.POSITIVE_INFINITY;
  const walk = (row: number, column: number, total: number): void => {
    const sum = total + (cost[row * columns + column] as number);
    if (row === rows - 1) best = Math.min(best, sum);
    else
      for (let next = 0; next < columns; next++) {
        if (Math.abs(next - column) <= most) walk(row + 1, next, sum + bend * Math.abs(next - column));
      }
  };
  for (let column = 0; column < columns; column++) walk(0, column, 0);
  return best;
}

describe('the shortest path through a band', () => {
  it('costs as little as the best of all paths', () => {
    fc.assert(
      fc.property(cells, fc.integer({ min: 0, max: 2 }), fc.integer({ min: 0, max: 5 }), (band, most, bend) => {
        const path = shortestPath(band.cost, band.columns, { most, bend });
        const total = path.reduce((sum, column, row) => {
          const moved = row > 0 ? Math.abs(column - (path[row - 1] as number)) : 0;
          expect(moved).toBeLessThanOrEqual(most);
          return sum + (band.cost[row * band.columns + column] as number) + bend * moved;
        }, 0);
        expect(total).toBe(cheapest(band.cost, band.columns, most, bend));
      }),
    );
  });
});

describe('a band along a slanted edge', () => {
  // Light above the line y = 20 + x / 4, dark below it.
  const data = new Uint8ClampedArray(60 * 60);
  for (let i = 0; i < data.length; i++) data[i] = Math.floor(i / 60) + 0.5 < 20 + ((i % 60) + 0.5) / 4 ? 220 : 40;
  const picture = { raster: rasterOf(60, 60, 1, data), mmPerPx: 1, x0: 0, y0: 0 };
  const line = Array.from({ length: 40 }, (_, i) => [10 + i, 20 + (10 + i) / 4] as const);

  it('is pulled straight: the step lies at the line all along, light inside', () => {
    const band = sampleBand(picture, new Uint8Array(3600), stationsAlong(line, 1), -8, 8, 0.5);
    const step = stepAcross(band, band.L, 3);
    for (let row = 0; row < line.length; row++) {
      const here = Array.from(step.subarray(row * band.columns, (row + 1) * band.columns));
      const at = here.indexOf(Math.max(...here));
      expect(Math.abs(band.from + at * band.step)).toBeLessThan(1);
      expect(here[at]).toBeGreaterThan(50);
    }
    // The other way round, the wood would be the dark side.
    const turned = sampleBand(picture, new Uint8Array(3600), stationsAlong(line, -1), -8, 8, 0.5);
    expect(Math.max(...stepAcross(turned, turned.L, 3))).toBeLessThan(10);
  });

  it('says nothing where a thing hides the edge', () => {
    const band = sampleBand(picture, new Uint8Array(3600).fill(1), stationsAlong(line, 1), -8, 8, 0.5);
    expect(stepAcross(band, band.L, 3).every((v) => v === 0)).toBe(true);
  });
});
