import type { Raster } from '../../src/raster';

/** The picture that every kind of photo shows in the tests of decoding: blocks whose colours all differ, so that no turn or mirror goes unseen. */

export const BLOCKS = { across: 6, down: 4, side: 40 } as const;
export const [WIDTH, HEIGHT] = [BLOCKS.across * BLOCKS.side, BLOCKS.down * BLOCKS.side];

/** Red grows to the right, green downwards, blue is the same everywhere. */
export const colourAt = (column: number, row: number): readonly [number, number, number] => [
  20 + column * 40,
  20 + row * 60,
  120,
];

/** Their grey: Rec. 601 luma. */
export const grey = ([r, g, b]: readonly [number, number, number]): number => 0.299 * r + 0.587 * g + 0.114 * b;

/** How far the middles of a decoded picture's blocks are from what they should be, at most, 0..255. */
export function worstOf({ width, height, channels, data }: Raster, isGrey = false): number {
  if (width !== WIDTH || height !== HEIGHT) return Infinity;
  let worst = 0;
  for (let row = 0; row < BLOCKS.down; row++) {
    for (let column = 0; column < BLOCKS.across; column++) {
      const [x, y] = [(column + 0.5) * BLOCKS.side, (row + 0.5) * BLOCKS.side];
      const at = (y * width + x) * channels;
      const colour = colourAt(column, row);
      for (let k = 0; k < 3; k++)
        worst = Math.max(worst, Math.abs((data[at + k] as number) - (isGrey ? grey(colour) : (colour[k] as number))));
    }
  }
  return worst;
}
