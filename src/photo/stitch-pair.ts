import type { Bounds } from '../geometry';
import { type FacePicture, type Grid, linearLight, type Raster } from '../raster';
import type { Cv } from './cv';
import { gridOf } from './pictures';
import { type Cut, cutBetween } from './stitch-cut';
import { lightBetween, type Tone } from './stitch-light';
import { type Layer, stitched } from './stitch-picture';
import { type Shift, shiftBetween } from './stitch-shift';

/** The part of the face that two photos show, held against each other. */
export interface Pair {
  readonly shift: Shift;
  /** The part of the face that both show, mm. */
  readonly box: Bounds;
  /** How much of the overlap is bare wood in both, along the way that the photos follow each other, mm. */
  readonly length: number;
}

/** How the pictures of two photos become one. */
export interface Seam extends Pair {
  /** How much lighter the first is. */
  readonly light: Tone;
  readonly cut: Cut;
}

/** Detail at which two pictures are compared, mm per pixel; coarser where so many pixels would not do. */
const DETAIL = 1;
const MOST_PIXELS = 2e6;
/** Below this correlation the shift is chance: pictures stay where the marks put them. */
export const LIKE = 0.5;

/** Two layers where both show the face. */
function overlapping(
  cv: Cv,
  first: Layer,
  second: Layer,
  overlap: Bounds,
  isWood: (grid: Grid) => Uint8Array,
  axis: 0 | 1,
) {
  const area = (overlap.maxX - overlap.minX) * (overlap.maxY - overlap.minY);
  const mmPerPx = Math.max(DETAIL, Math.sqrt(area / MOST_PIXELS));
  const shown = (layer: Layer): FacePicture => stitched(cv, [layer], [], { mmPerPx, bounds: overlap });
  const [a, b] = [shown(first), shown(second)];
  const grid = gridOf(a);
  const both = bothSeen(a.raster, b.raster);
  const wood = isWood(grid).map((v, i) => v & (both[i] as number));
  const light = logLight(a.raster);
  const shift = shiftBetween(grid, light, logLight(b.raster), wood);
  const pair: Pair = { shift, box: overlap, length: lengthOf(grid, wood, axis) };
  return { pair, shown, picture: a, grid, wood, light };
}

/**
 * Holds two layers against each other.
 * @param overlap the part of the face that both show, mm
 * @param isWood whether bare wood is seen at a spot: no card, no floor
 */
export const pairOf = (...given: Parameters<typeof overlapping>): Pair => overlapping(...given).pair;

/** Holds two layers against each other, and finds where and how one passes into the other. */
export function seamOf(...given: Parameters<typeof overlapping>): Seam {
  const { pair, shown, picture, grid, wood, light: lightA } = overlapping(...given);
  const [, , second, , , axis] = given;
  const { shift } = pair;
  const laid = shift.likeness >= LIKE ? shown({ ...second, moved: shift.to }) : shown(second);
  const light = lightBetween(grid, picture.raster.data, laid.raster.data, wood);
  const lightB = logLight(laid.raster);
  evened(grid, lightB, light);
  const cut = cutBetween(grid, lightA, lightB, bothSeen(picture.raster, laid.raster), wood, axis);
  return { ...pair, light, cut };
}

function bothSeen(a: Raster, b: Raster): Uint8Array {
  const out = new Uint8Array(a.width * a.height);
  for (let i = 0; i < out.length; i++) out[i] = a.data[4 * i + 3] === 255 && b.data[4 * i + 3] === 255 ? 1 : 0;
  return out;
}

/** Natural log of linear light, black held off. */
function logLight({ width, height, data }: Raster): Float32Array {
  const linear = Float32Array.from({ length: 256 }, (_, byte) => linearLight(byte));
  const out = new Float32Array(width * height);
  for (let i = 0; i < out.length; i++) {
    const light =
      0.2126 * (linear[data[4 * i] as number] as number) +
      0.7152 * (linear[data[4 * i + 1] as number] as number) +
      0.0722 * (linear[data[4 * i + 2] as number] as number);
    out[i] = Math.log(light + 0.003);
  }
  return out;
}

/** Brings the second picture's lightness to the first's. */
function evened({ width, mmPerPx, x0, y0 }: Grid, light: Float32Array, tone: Tone): void {
  for (let i = 0; i < light.length; i++) {
    const [, green] = tone(x0 + ((i % width) + 0.5) * mmPerPx, y0 + (Math.floor(i / width) + 0.5) * mmPerPx);
    light[i] = (light[i] as number) + green;
  }
}

function lengthOf({ width, mmPerPx }: Grid, wood: Uint8Array, axis: 0 | 1): number {
  const lines = new Set<number>();
  wood.forEach((v, i) => {
    if (v) lines.add(axis === 0 ? i % width : Math.floor(i / width));
  });
  return lines.size * mmPerPx;
}
