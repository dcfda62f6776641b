import type { FacePicture, Raster } from '../../src/raster';
import { sample } from '../../src/raster';
import { type Eye, faceOf, poseOf, type Thing } from './scene';

/** A face with colours, shot by cameras of our own making from wherever they stand, in whatever light. */
export interface ShotWish {
  /** RGBA; transparent where no wood is. Its bytes are what the camera would give of it in white light of strength 1. */
  readonly face: FacePicture;
  readonly cards: readonly Thing[];
  /** Strength of the light on red, green and blue, and how it falls per metre along x and y (natural log). */
  readonly light?: readonly [r: number, g: number, b: number, perX: number, perY: number];
  /** How far the wood stands out of the face's plane, mm. */
  readonly height?: (x: number, y: number) => number;
  /** The floor lies so far below the face, mm. */
  readonly floor?: number;
  /** Grain of the sensor, one standard deviation in bytes. */
  readonly noise?: number;
}

const toLinear = (byte: number) => {
  const c = byte / 255;
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
};
const toByte = (light: number) => 255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055);
const FLOOR = [0.3, 0.28, 0.25];
const STEP = 8;

/** A colour photo of the face. */
export function shoot(eye: Eye, wish: ShotWish): Raster {
  const { face, cards, light = [1, 1, 1, 0, 0], height, floor = 120, noise = 1.5 } = wish;
  const { width, height: rows } = eye;
  const { R, t } = poseOf(eye);
  const at = [0, 1, 2].map((j) => -R.reduce((sum, row, i) => sum + row[j as 0] * (t[i] as number), 0));
  const [cx, cy, cz] = at as [number, number, number];
  const columns = Math.ceil(width / STEP) + 1;
  const nodes: [number, number][] = [];
  for (let j = 0; j <= Math.ceil(rows / STEP); j++)
    for (let i = 0; i < columns; i++) nodes.push(faceOf(eye, [i * STEP, j * STEP]));
  const bytes = Float32Array.from({ length: 256 }, (_, k) => toLinear(k));
  const out = new Uint8ClampedArray(width * rows * 3);
  const pixel: number[] = [];
  let state = 12345;
  const chance = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  for (let r = 0; r < rows; r++) {
    const j = Math.floor(r / STEP);
    const fy = r / STEP - j;
    for (let c = 0; c < width; c++) {
      const i = Math.floor(c / STEP);
      const fx = c / STEP - i;
      const node = (k: number, l: number) => nodes[(j + l) * columns + i + k] as [number, number];
      const mix = (k: 0 | 1) =>
        (node(0, 0)[k] * (1 - fx) + node(1, 0)[k] * fx) * (1 - fy) +
        (node(0, 1)[k] * (1 - fx) + node(1, 1)[k] * fx) * fy;
      const [px, py] = [mix(0), mix(1)];
      let [x, y] = [px, py];
      for (let k = 0; height && k < 3; k++) {
        const share = (-cz - height(x, y)) / -cz;
        [x, y] = [cx + (px - cx) * share, cy + (py - cy) * share];
      }
      const seen = colourAt(face, cards, bytes, x, y, pixel);
      let colour = seen;
      if (!colour) {
        const share = (-cz + floor) / -cz;
        const [fx2, fy2] = [cx + (px - cx) * share, cy + (py - cy) * share];
        const speck = 1 + 0.08 * Math.sin(fx2 / 17) * Math.sin(fy2 / 23) + 0.05 * Math.sin(fx2 / 3.1 + fy2 / 4.7);
        colour = FLOOR.map((v) => v * speck);
      }
      const fall = Math.exp((light[3] * (x - eye.at[0]) + light[4] * (y - eye.at[1])) / 1000);
      const grain = noise * (chance() + chance() + chance() - 1.5) * 2;
      for (let k = 0; k < 3; k++)
        out[3 * (r * width + c) + k] = toByte((colour[k] as number) * (light[k] as number) * fall) + grain;
    }
  }
  return { width, height: rows, channels: 3, data: out };
}

function colourAt(
  { raster, mmPerPx, x0, y0 }: FacePicture,
  cards: readonly Thing[],
  bytes: Float32Array,
  x: number,
  y: number,
  pixel: number[],
): number[] | null {
  for (const thing of cards) {
    if (Math.hypot(x - thing.at[0], y - thing.at[1]) > thing.reach + 20) continue;
    const white = thing.white(x, y);
    if (white !== null) return [0.04 + 0.7 * white, 0.04 + 0.7 * white, 0.04 + 0.7 * white];
  }
  const [u, v] = [(x - x0) / mmPerPx - 0.5, (y - y0) / mmPerPx - 0.5];
  if (u < 0 || v < 0 || u > raster.width - 1 || v > raster.height - 1) return null;
  if ((raster.data[4 * (Math.round(v) * raster.width + Math.round(u)) + 3] as number) < 128) return null;
  sample(raster, u, v, pixel);
  return [0, 1, 2].map((k) => bytes[Math.round(pixel[k] as number)] as number);
}
