import type { Cv } from '../../src/photo';
import { type FacePicture, type Raster, rasterOf } from '../../src/raster';
import { cardsAt, type Place } from './drawn-ends';
import type { Eye } from './scene';
import { shoot } from './two-shots';

/** A photo that shows two slabs of one wood beside each other, two cards on each: nothing tells which is meant. mm. */
export const SLABS = { length: 1100, width: 260, gap: 70 } as const;
const { length, width, gap } = SLABS;

const CARDS: readonly Place[] = [
  [0, 140, -(gap + width) / 2, 10],
  [1, 960, -(gap + width) / 2 + 20, 70],
  [2, 150, (gap + width) / 2, -20],
  [3, 950, (gap + width) / 2 - 15, 35],
];

export const ABOVE: Eye = {
  width: 1600,
  height: 1200,
  focal: 1250,
  k1: -0.03,
  k2: 0,
  at: [length / 2, 0],
  distance: 1150,
  pitch: 4,
  yaw: -3,
  roll: 1,
};

/** Pixels on the slab farther from the viewer, on the nearer one, and on the floor between them. */
export const [FAR, NEAR, FLOOR] = [
  [800, 420],
  [800, 780],
  [800, 600],
] as const;

function faces(): FacePicture {
  const height = 2 * width + gap;
  const data = new Uint8ClampedArray(length * height * 4);
  for (let r = 0; r < height; r++) {
    if (r >= width && r < width + gap) continue;
    for (let c = 0; c < length; c++) {
      const ring = r + 20 * Math.sin(c / 210 + (r > width ? 2 : 0));
      const figure = 12 * Math.sin(ring / 2.1) + 8 * Math.sin(ring / 5.3);
      data.set([120 + figure, 84 + figure, 56 + figure, 255], 4 * (r * length + c));
    }
  }
  return { raster: rasterOf(length, height, 4, data), mmPerPx: 1, x0: 0, y0: -height / 2 };
}

export const shootTwoSlabs = (cv: Cv): Raster => shoot(ABOVE, { face: faces(), cards: cardsAt(cv, CARDS) });
