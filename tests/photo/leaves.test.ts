import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { bounds, centroid, distance, distanceToRing, type Point, type Polygon, ringArea } from '../../src/geometry';
import type { Scale } from '../../src/job';
import { type Cv, type LeavesRead, measure, readLeaves } from '../../src/photo';
import { numbered, usualOrder } from '../../src/photo/leaf-order';
import { jointsIn, lyingAlong, partedAt } from '../../src/photo/leaf-seams';
import { rasterOf } from '../../src/raster';
import { corners, KNOT, LEAF, shootLeaves } from './drawn-leaves';
import { openCv } from './opencv';

const scale: Scale = { kind: 'markers', dictionary: '4x4_50', side: 80, drop: 0.01 };
let cv: Cv;
let lying: LeavesRead;

beforeAll(async () => {
  ({ cv } = await openCv());
  lying = await readLeaves(cv, shootLeaves(cv, false), scale);
});

const box = (ring: Polygon<'face'>) => {
  const { minX, minY, maxX, maxY } = bounds(ring);
  return [maxX - minX, maxY - minY] as const;
};

describe('a picture of three leaves, a finger apart', () => {
  it('gives each as a leaf of its own, its edge within a millimetre, in its own frame', () => {
    expect(lying.leaves.map(({ place }) => place)).toEqual([1, 2, 3]);
    for (const { traced } of lying.leaves) {
      const [length, width] = box(traced.outline.outer);
      expect(Math.abs(length - LEAF.length)).toBeLessThan(2.5);
      expect(Math.abs(width - LEAF.width)).toBeLessThan(2.5);
      expect(Math.abs(ringArea(traced.outline.outer) / (LEAF.length * LEAF.width) - 1)).toBeLessThan(0.01);
      expect(Math.hypot(bounds(traced.outline.outer).minX, bounds(traced.outline.outer).minY)).toBeLessThan(4);
    }
    expect(lying.doubts).toEqual([]);
  });

  it('measures all of them by one camera: they lie as far from each other as they were laid', () => {
    // Each leaf's camera sees its corners at the pixels at which another's sees them.
    const [first] = lying.leaves;
    const common = measure(first!.calibration);
    const middles = lying.leaves.map(({ calibration, traced }) => {
      const px = measure(calibration).toPhoto(centroid(traced.outline.outer));
      return common.place(px) as Point<'face'>;
    });
    const truth = [0, 1, 2].map((i) => centroid(corners(i)));
    for (const [i, j] of [
      [0, 1],
      [1, 2],
      [0, 2],
    ] as const)
      expect(Math.abs(distance(middles[i]!, middles[j]!) - distance(truth[i]!, truth[j]!))).toBeLessThan(1);
  });

  it('proposes the knot where it is, on the leaf that has it', () => {
    const knots = lying.leaves.flatMap(({ place, traced }) =>
      traced.defects.flatMap((d) => ('polygon' in d ? [{ place, at: centroid(d.polygon) }] : [])),
    );
    const own = knots.filter(({ place }) => place === KNOT.leaf + 1);
    expect(own.some(({ at }) => Math.hypot(at[0] - KNOT.x, at[1] - KNOT.y) < 3)).toBe(true);
    expect(knots).toHaveLength(own.length);
  });

  it('is numbered from the top down, and says so', () => {
    expect(lying.order).toBe('top to bottom');
    expect(lying.numbered).toMatch(/3 leaves .* from the top down/);
    const heights = lying.leaves.map(({ at }) => at[1]);
    expect(heights).toEqual([...heights].sort((a, b) => a - b));
  });

  it.runIf(process.env.SLOW)(
    'stands leaves that lie side by side upright in order from left to right, y likewise',
    async () => {
      const { leaves, order } = await readLeaves(cv, shootLeaves(cv, true), scale);
      expect([leaves.length, order]).toEqual([3, 'left to right']);
      for (const { calibration, ring, at } of leaves) {
        const view = measure(calibration);
        const [up, right] = [view.toPhoto([LEAF.length, 0]), view.toPhoto([0, LEAF.width])];
        const origin = view.toPhoto([0, 0]);
        expect(up[1]).toBeLessThan(origin[1] - 300);
        expect(right[0]).toBeGreaterThan(origin[0] + 60);
        expect(distanceToRing(at, ring)).toBeGreaterThan(20);
      }
    },
  );
});

describe('leaves that touch', () => {
  const [length, width] = [420, 250];
  const ring: Polygon<'face'> = [
    [0, 0],
    [length, 0],
    [length, width],
    [0, width],
  ];
  /** Bowed rings all over, and a joint as a line a millimetre wide from end to end; none where it is null. */
  const drawn = (joint: readonly [from: number, to: number] | null, dark: number) => {
    const data = new Uint8ClampedArray(length * width * 3);
    for (let r = 0; r < width; r++) {
      for (let c = 0; c < length; c++) {
        const at = joint ? joint[0] + ((joint[1] - joint[0]) * c) / length : -9;
        const figure =
          14 * Math.sin((r + 18 * Math.sin(c / 130)) / 2.3) + 8 * Math.sin((r + 25 * Math.sin(c / 90)) / 6);
        const tone = 150 + figure - (Math.abs(r + 0.5 - at) < 1 ? dark : 0);
        data.set([tone, 0.7 * tone, 0.45 * tone], 3 * (r * length + c));
      }
    }
    return { raster: rasterOf(length, width, 3, data), mmPerPx: 1, x0: 0, y0: 0 };
  };

  it('come apart at their joint wherever it runs, and one leaf with bowed rings stays whole', () => {
    const lying = lyingAlong(ring, 0);
    expect(jointsIn(drawn(null, 0), lying, 30)).toEqual([]);
    fc.assert(
      fc.property(
        fc.integer({ min: 50, max: 200 }),
        fc.integer({ min: -6, max: 6 }),
        fc.integer({ min: 80, max: 130 }),
        (from, slant, dark) => {
          const joints = jointsIn(drawn([from, from + slant], dark), lying, 30);
          const parts = partedAt(ring, lying, joints);
          expect(parts).toHaveLength(2);
          const shared = [from, from + slant].map((y, i): Point<'face'> => [i * length, y]);
          for (const part of parts) for (const corner of shared) expect(distanceToRing(corner, part)).toBeLessThan(2.5);
        },
      ),
      { numRuns: 8 },
    );
  });
});

describe('the numbers of leaves', () => {
  it('follow the picture in any grid of rows and columns, whatever their order was', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 1, max: 4 }),
        fc.integer(),
        (rows, columns, seed) => {
          const rings = Array.from({ length: rows * columns }, (_, i): Polygon<'photo'> => {
            const [x, y] = [(i % columns) * 120, Math.floor(i / columns) * 70 + (i % 3) * 9];
            return [
              [x, y],
              [x + 100, y],
              [x + 100, y + 50],
              [x, y + 50],
            ];
          });
          const shuffled = rings
            .map((ring, i) => ({ ring, i, key: Math.sin(seed + 17 * i) }))
            .sort((a, b) => a.key - b.key);
          const mixed = shuffled.map(({ ring }) => ring);
          const order = usualOrder(mixed);
          expect(numbered(mixed, order).map((k) => shuffled[k]?.i)).toEqual(rings.map((_, i) => i));
          const byColumns = numbered(mixed, 'columns').map((k) => shuffled[k]?.i as number);
          expect(byColumns.map((i) => (i % columns) * rows + Math.floor(i / columns))).toEqual(rings.map((_, i) => i));
        },
      ),
    );
  });
});
