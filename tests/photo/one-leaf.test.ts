import { expect, test } from 'vitest';
import { bounds, type Polygon, rectangle, ringArea } from '../../src/geometry';
import { findLeaves } from '../../src/photo/leaf-pieces';
import { rasterOf } from '../../src/raster';
import { seededRandom } from '../../src/search';
import { openCv } from './opencv';

/**
 * One leaf on a bench of boards, of wood but little paler than its own, in the dappled light of leaves before a window, seen straight from
 * above: drawn from formulas. mm are pixels.
 */
const [WIDTH, HEIGHT] = [1500, 820];
const LEAF = { x: 150, y: 285, length: 1200, width: 250 } as const;
const CARDS: readonly (readonly [number, number])[] = [
  [170, 120],
  [1180, 130],
  [190, 600],
  [1200, 590],
];
const SIDE = 110;
/** A light in which the colours of single pixels lead astray: by them alone it is six pieces. */
const SEED = 2;

/** Smooth noise, 0 to 1, whose humps are `size` wide. */
function humps(size: number, seed: number): (x: number, y: number) => number {
  const random = seededRandom(seed);
  const columns = Math.ceil(WIDTH / size) + 2;
  const at = Float32Array.from({ length: columns * (Math.ceil(HEIGHT / size) + 2) }, () => random.next());
  const smooth = (t: number) => t * t * (3 - 2 * t);
  return (x, y) => {
    const [i, j] = [Math.floor(x / size), Math.floor(y / size)];
    const [u, v] = [smooth(x / size - i), smooth(y / size - j)];
    const k = j * columns + i;
    const row = (from: number) => (1 - u) * (at[from] as number) + u * (at[from + 1] as number);
    return (1 - v) * row(k) + v * row(k + columns);
  };
}

function drawn(seed: number) {
  const data = new Uint8ClampedArray(WIDTH * HEIGHT * 4);
  const [shade, fine, grain] = [humps(170, seed), humps(24, seed + 1), humps(5, seed + 2)];
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const light = 0.7 * shade(x, y) + 0.3 * fine(x, y) > 0.6 ? 0.68 : 1;
      const [lx, ly] = [x - LEAF.x, y - LEAF.y];
      const onCard = CARDS.some(([cx, cy]) => x >= cx && x < cx + SIDE && y >= cy && y < cy + SIDE);
      const board = Math.floor(y / 64);
      let colour: readonly number[];
      if (onCard) colour = [225, 225, 225];
      else if (lx >= 0 && ly >= 0 && lx < LEAF.length && ly < LEAF.width) {
        const ring = Math.sin((ly + 26 * Math.sin(lx / 260)) / 3.2) * 24 + grain(x, y) * 10;
        colour = [194 + ring, 144 + ring, 94 + 0.7 * ring];
      } else {
        const own = ((board * 37) % 11) - 5 + grain(x / 6, y) * 14 - (y % 64 < 2 ? 40 : 0);
        colour = [212 + own, 172 + own, 116 + own];
      }
      data.set([...colour.map((c) => c * (onCard ? 1 : light)), 255], 4 * (y * WIDTH + x));
    }
  return { raster: rasterOf(WIDTH, HEIGHT, 4, data), mmPerPx: 1, x0: 0, y0: 0 };
}

test.runIf(process.env.SLOW)(
  'one leaf on a bench of wood in dappled light is one piece, roughly as it lies',
  async () => {
    const { cv } = await openCv();
    const laid = CARDS.map(([x, y]) => ({ polygon: rectangle<'face'>(x, y, x + SIDE, y + SIDE), onWood: false }));
    const rings = findLeaves(cv, drawn(SEED), { laid });
    expect(rings).toHaveLength(1);
    const { minX, maxX, minY, maxY } = bounds(rings[0] as Polygon<'face'>);
    for (const [is, truth] of [
      [minX, LEAF.x],
      [maxX, LEAF.x + LEAF.length],
      [minY, LEAF.y],
      [maxY, LEAF.y + LEAF.width],
    ] as const)
      expect(Math.abs(is - truth)).toBeLessThan(30);
    expect(ringArea(rings[0] as Polygon<'face'>) / (LEAF.length * LEAF.width)).toBeGreaterThan(0.9);
  },
);
