import DxfParser from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toDxf } from '../../src/cutmap';
import { bends } from '../../src/cutmap/curves';
import { ring } from '../../src/cutmap/drawing';
import { intersection, largestRing, type Point, rectangle, union } from '../../src/geometry';

type At = Point<'paper'>;
const micro = (x: number): number => Math.round(x * 1000) / 1000;

/** A box with rounded corners as the polygon library would leave it: short chords, rounded to micrometres, begun anywhere. */
function rounded(width: number, height: number, radius: number, sides: number, turn: number, from: number): At[] {
  const corners = [
    [width - radius, height - radius],
    [radius, height - radius],
    [radius, radius],
    [width - radius, radius],
  ] as const;
  const points = corners.flatMap(([x, y], k) =>
    Array.from({ length: sides + 1 }, (_, i): At => {
      const t = (Math.PI / 2) * (k + i / sides);
      return [x + radius * Math.cos(t), y + radius * Math.sin(t)];
    }),
  );
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const turned = points.map(([x, y]): At => [micro(x * cos - y * sin + 500), micro(x * sin + y * cos + 500)]);
  return [...turned.slice(from % turned.length), ...turned.slice(0, from % turned.length)];
}

/** Area within bends: that of the corners' polygon and of each arc's segment, r2 (turn - sin turn) / 2. */
function areaOf(ring: ReturnType<typeof bends>): number {
  let sum = 0;
  ring.forEach(({ at: [x, y], bulge }, i) => {
    const [p, q] = ring[(i + 1) % ring.length]!.at;
    const [turn, chord] = [4 * Math.atan(bulge), Math.hypot(p - x, q - y)];
    const radius = bulge === 0 ? 0 : chord / 2 / Math.sin(turn / 2);
    sum += (x * q - p * y + radius * radius * (turn - Math.sin(turn))) / 2;
  });
  return sum;
}

describe('arcs in polygons', () => {
  it('are found again round a top that was put together of two strips: no side is left where the seam crosses the circle', () => {
    const numbers = fc.tuple(
      fc.double({ min: 150, max: 900, noNaN: true }),
      fc.double({ min: -0.8, max: 0.8, noNaN: true }),
      fc.integer({ min: 120, max: 360 }),
    );
    fc.assert(
      fc.property(numbers, ([radius, cut, sides]) => {
        const disc = Array.from({ length: sides }, (_, i): Point<'top'> => {
          const t = (2 * Math.PI * i) / sides;
          return [radius * Math.cos(t), radius * Math.sin(t)];
        });
        const half = (minY: number, maxY: number) => [{ outer: rectangle<'top'>(-1000, minY, 1000, maxY), holes: [] }];
        const whole = [{ outer: disc, holes: [] }];
        const y = cut * radius;
        const glued = largestRing(
          union([...intersection(whole, half(-1000, y)), ...intersection(whole, half(y, 1000))]),
        )!;
        const found = bends(glued as unknown as At[], true);
        expect(found.filter(({ bulge }) => bulge === 0)).toEqual([]);
        expect(found.length).toBeLessThan(5);
        expect(Math.abs(areaOf(found)) / (Math.PI * radius ** 2)).toBeCloseTo(1, 4);
      }),
      { numRuns: 60 },
    );
  });

  it('are found again in boxes with rounded corners: four arcs, four sides, the true area', () => {
    const numbers = fc.tuple(
      fc.double({ min: 60, max: 900, noNaN: true }),
      fc.double({ min: 60, max: 900, noNaN: true }),
      fc.double({ min: 4, max: 29, noNaN: true }),
      fc.integer({ min: 5, max: 40 }),
      fc.double({ min: -3, max: 3, noNaN: true }),
      fc.nat(200),
    );
    fc.assert(
      fc.property(numbers, ([width, height, radius, sides, turn, from]) => {
        const found = bends(rounded(width, height, radius, sides, turn, from), true);
        expect(found.map(({ bulge }) => bulge !== 0).sort()).toEqual([
          false,
          false,
          false,
          false,
          true,
          true,
          true,
          true,
        ]);
        // A quarter circle bulges by the tangent of 22.5 degrees.
        for (const { bulge } of found) if (bulge !== 0) expect(bulge).toBeCloseTo(Math.SQRT2 - 1, 2);
        const area = width * height - (4 - Math.PI) * radius * radius;
        expect(Math.abs(areaOf(found) - area)).toBeLessThan(0.01 * (width + height));
      }),
    );
  });

  it('make a round top two half circles, in a drawing file too', async () => {
    const count = 240;
    const circle = Array.from({ length: count }, (_, i): At => {
      const t = (2 * Math.PI * i) / count;
      return [micro(500 + 450 * Math.cos(t)), micro(500 + 450 * Math.sin(t))];
    });
    const found = bends(circle, true);
    expect(areaOf(found) / (Math.PI * 450 * 450)).toBeCloseTo(1, 5);
    const dxf = await toDxf({
      name: 'round',
      title: 'round',
      width: 1000,
      height: 1000,
      groups: [{ layer: 'FINISHED', name: 'top', elements: [ring(circle, 'finished')] }],
    });
    const [line] = new DxfParser().parseSync(dxf)!.entities as unknown as {
      type: string;
      shape: boolean;
      vertices: { x: number; y: number; bulge?: number }[];
    }[];
    expect([line!.type, line!.shape, line!.vertices.length]).toEqual(['LWPOLYLINE', true, found.length]);
    // With y up the ring runs the other way.
    for (const [i, { bulge }] of found.entries()) expect(line!.vertices[i]!.bulge).toBeCloseTo(-bulge, 6);
  });

  it('are not seen in what only has its corners on a circle, and keep every corner of a traced edge', () => {
    const box: At[] = [
      [0, 0],
      [40, 0],
      [40, 30],
      [0, 30],
    ];
    const octagon = Array.from({ length: 8 }, (_, i): At => [Math.cos((i * Math.PI) / 4), Math.sin((i * Math.PI) / 4)]);
    const edge = Array.from({ length: 60 }, (_, i): At => [i * 5, Math.sin(i / 9) * 12 + ((i * 7919) % 13) / 9]);
    for (const [points, closed] of [
      [box, true],
      [octagon, true],
      [edge, false],
    ] as const) {
      const found = bends(points, closed);
      expect(found.every(({ bulge }) => bulge === 0)).toBe(true);
      expect(found).toHaveLength(points.length);
    }
  });
});
