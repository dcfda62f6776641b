import { describe, expect, test } from 'vitest';
import type { Point } from '../../src/geometry';
import { taught } from '../../src/photo/teaching';
import { rasterOf } from '../../src/raster';
import { seededRandom } from '../../src/search';

/** A board of 200 x 60 px from (20, 30) on grass, the left half of everything in shadow; 2 mm a pixel. Colours are drawn with noise. */
const [W, H] = [240, 120];
const onBoard = (x: number, y: number) => x >= 20 && x < 220 && y >= 30 && y < 90;
const inShadow = (x: number) => x < 120;

function scene() {
  const chance = seededRandom(3);
  const data = new Uint8ClampedArray(W * H * 3);
  for (let i = 0; i < W * H; i++) {
    const [x, y] = [i % W, Math.floor(i / W)];
    const colour = onBoard(x, y) ? [98, 72, 58] : [78, 110, 50];
    for (let k = 0; k < 3; k++)
      data[3 * i + k] = (colour[k] as number) * (inShadow(x) ? 0.5 : 1) + 8 * (chance.next() - 0.5);
  }
  return { raster: rasterOf(W, H, 3, data), mmPerPx: 2, x0: 0, y0: 0 };
}

const picture = scene();
const mask = (is: (x: number, y: number) => boolean) =>
  Uint8Array.from({ length: W * H }, (_, i) => (is(i % W, Math.floor(i / W)) ? 1 : 0));
const line = (...px: [number, number][]): Point<'face'>[] => px.map(([x, y]) => [2 * x, 2 * y]);
/** Shares of a part of the scene that a mask holds. */
const share = (of: Uint8Array, is: (x: number, y: number) => boolean) => {
  const part = mask(is);
  return of.reduce((sum, v, i) => sum + (v && part[i] ? 1 : 0), 0) / part.reduce((a, b) => a + b, 0);
};

describe('what a stroke teaches', () => {
  const lit = mask((x, y) => onBoard(x, y) && !inShadow(x));

  test('a short stroke on wood in shadow brings in all the wood in that shadow, and no grass', () => {
    const out = taught(picture, { strokes: [{ kind: 'wood', line: line([50, 60], [90, 60]) }] }, lit);
    expect(share(out, (x, y) => onBoard(x, y) && inShadow(x))).toBeGreaterThan(0.95);
    expect(share(out, (x, y) => !onBoard(x, y))).toBeLessThan(0.02);
  });

  test('a short stroke on grass that was taken for wood takes all of it away, and no wood', () => {
    const guess = mask((x, y) => x >= 20 && x < 220 && y >= 10 && y < 90 && (y >= 30 || inShadow(x)));
    const out = taught(picture, { strokes: [{ kind: 'not wood', line: line([50, 20], [90, 20]) }] }, guess);
    expect(share(out, (x, y) => !onBoard(x, y))).toBeLessThan(0.02);
    expect(share(out, onBoard)).toBeGreaterThan(0.98);
  });

  test('a stroke whose colours are the wood itself takes away no more than it covers', () => {
    const wood = mask(onBoard);
    const out = taught(picture, { strokes: [{ kind: 'not wood', line: line([150, 60], [200, 60]) }] }, wood);
    expect(share(out, onBoard)).toBeGreaterThan(0.9);
  });

  test('without strokes a guess stays as it is', () => {
    expect(taught(picture, {}, lit)).toEqual(lit);
  });
});
