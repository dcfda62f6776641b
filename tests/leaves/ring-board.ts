import { rectangle } from '../../src/geometry';
import type { Lie, PicturedFace } from '../../src/leaves/drift-types';
import { rasterOf } from '../../src/raster';
import { seededRandom } from '../../src/search';

/** A board of round rings about a pith that may wander, invented: where any ring crosses any face is known from Pythagoras. mm */
export interface RingBoard {
  readonly length: number;
  readonly width: number;
  /** Where the pith runs across the board, at its two ends, and how far below its outer face, likewise; less than 0: above. */
  readonly pith: readonly [number, number];
  readonly deep: readonly [number, number];
  /** How far it wanders off the straight line between, either way. */
  readonly wander?: number;
  readonly seed: number;
}

export const pithOf = (
  { length, pith, deep, wander = 0 }: RingBoard,
  x: number,
): readonly [across: number, deep: number] => [
  pith[0] + ((pith[1] - pith[0]) * x) / length + wander * Math.sin(x / 60),
  deep[0] + ((deep[1] - deep[0]) * x) / length + wander * Math.cos(x / 70 + 1),
];

/** Grey of the wood by its distance from the pith: rings of many widths and shades, each darker towards its end, as late wood is. */
function ringsOf(seed: number): (radius: number) => number {
  const { next } = seededRandom(seed);
  const ends: number[] = [];
  for (let r = 0; r < 700; r += 3.5 + 5 * next()) if (r > 0) ends.push(r);
  const shades = ends.map(() => 24 * (next() - 0.5));
  return (radius) => {
    let [low, high] = [0, ends.length - 1];
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((ends[middle] as number) > radius) high = middle;
      else low = middle + 1;
    }
    const from = low > 0 ? (ends[low - 1] as number) : 0;
    const late = ((radius - from) / ((ends[low] as number) - from)) ** 3;
    return 160 + (shades[low] as number) - 55 * late;
  };
}

/** Where what shows at (x, y) of the face at depth `from` shows at depth `to`, across; NaN where its ring does not reach it. */
export function crosses(board: RingBoard, x: number, y: number, from: number, to: number): number {
  const [pith, deep] = pithOf(board, x);
  const square = (y - pith) ** 2 + (deep - from) ** 2 - (deep - to) ** 2;
  return square > 0 ? pith + Math.sign(y - pith) * Math.sqrt(square) : Number.NaN;
}

const TURN: Readonly<Record<Lie, readonly [number, number]>> = {
  same: [1, 1],
  'end for end': [-1, -1],
  over: [1, -1],
  'over end for end': [-1, 1],
};

/** The face at a depth below the outer one, at 1 mm a pixel, photographed as it lies. */
export function ringFace(board: RingBoard, depth: number, lie: Lie = 'same'): PicturedFace {
  const { length, width, seed } = board;
  const grey = ringsOf(seed);
  const { next } = seededRandom(seed + Math.round(1000 * depth) + 1);
  const [sx, sy] = TURN[lie];
  const data = new Uint8ClampedArray(length * width * 3);
  for (let r = 0; r < width; r++) {
    for (let c = 0; c < length; c++) {
      const [x, y] = [sx > 0 ? c + 0.5 : length - c - 0.5, sy > 0 ? r + 0.5 : width - r - 0.5];
      const [pith, deep] = pithOf(board, x);
      const tone = grey(Math.hypot(y - pith, deep - depth)) + 8 * (next() - 0.5);
      data.set([tone, 0.78 * tone, 0.55 * tone], 3 * (r * length + c));
    }
  }
  return {
    picture: { raster: rasterOf(length, width, 3, data), mmPerPx: 1, x0: 0, y0: 0 },
    outline: rectangle<'face'>(0, 0, length, width),
    defects: [],
  };
}
