import type { Cv } from '../../src/photo';
import { type FacePicture, rasterOf } from '../../src/raster';
import { card, type Eye, type Thing } from './scene';

/** A slab 1.6 m long drawn from formulas, with six cards on it, and two cameras that each see one end of it and the middle. mm */
export const [LENGTH, WIDTH] = [1600, 420];
export const SIDE = 80;

export type Place = readonly [id: number, x: number, y: number, degrees: number];
/** Cards 2 and 3 are seen by both cameras. */
export const PLACES: readonly Place[] = [
  [0, 150, -110, 10],
  [1, 170, 110, 70],
  [2, 720, -120, -20],
  [3, 860, 115, 35],
  [4, 1430, -105, 80],
  [5, 1440, 100, 5],
];

export const cardsAt = (cv: Cv, places: readonly Place[]): Thing[] =>
  places.map(([id, x, y, degrees]) => card(cv, id, SIDE, [x, y], degrees));

/** Rings that lean, a figure that varies all over. */
export function woodFace(seed: number): FacePicture {
  const [width, height] = [LENGTH, WIDTH];
  const data = new Uint8ClampedArray(width * height * 4);
  for (let r = 0; r < height; r++) {
    for (let c = 0; c < width; c++) {
      const [x, y] = [c + 0.5, r + 0.5 - WIDTH / 2];
      const ring = y + 30 * Math.sin(x / 230 + seed) + (x * Math.sin(seed)) / 30 + 6 * Math.sin(x / 47 + 2 * seed);
      const figure = 14 * Math.sin(ring / 1.9) + 9 * Math.sin(ring / 4.3 + seed) + 7 * Math.sin(x / 23 + ring / 11);
      data.set([120 + figure, 84 + figure, 56 + figure, 255], 4 * (r * width + c));
    }
  }
  return { raster: rasterOf(width, height, 4, data), mmPerPx: 1, x0: 0, y0: -WIDTH / 2 };
}

const eye = (x: number, rest: Partial<Eye> = {}): Eye => ({
  width: 1600,
  height: 1200,
  focal: 1250,
  k1: -0.04,
  k2: 0.005,
  at: [x, 0],
  distance: 900,
  pitch: 5,
  yaw: -4,
  roll: 2,
  ...rest,
});
export const LEFT = eye(480);
export const RIGHT = eye(1130, { focal: 1230, pitch: -4, yaw: 6, roll: -3, distance: 920 });
