import { blur } from '../raster';
import type { EvenFace } from './even-faces';
import { type DrawnGrain, drawnGrain } from './grain-lines';
import type { WoodFace } from './joint-types';

/** Stations along x lie this far apart, mm; each averages the pixels of its own stretch. */
export const STATION = 5;

/**
 * Equal parts about `each` long that a line of a joint is read in. Both lines of a joint and every reading of it have as many, though their ends
 * were turned and moved and differ in the last digits: a length halfway between two counts takes the fewer.
 */
export const partsOf = (length: number, each: number): number => Math.max(1, Math.round(length / each - 1e-6));

/** Lines are read over this many stations, either side included: an angle needs more of them than one station crosses. */
const ANGLE_REACH = 2;

/** Which side of a line along x is kept: less y, or more y. */
export type Side = 0 | 1;
export const LESS: Side = 0;
export const MORE: Side = 1;

/**
 * Running sums down each station's column, so that any band of rows is one subtraction: sound pixels, L, a, b, and the gradient's
 * products. Sum at row r counts the rows before r, hence a band on one side of a line never holds a pixel of the other.
 */
export interface StationSums {
  readonly stations: number;
  readonly rows: number;
  readonly x0: number;
  readonly y0: number;
  /** [station][row + 1][SUMS]: what a band needs lies together. */
  readonly sums: Float32Array;
}
export const SUMS = 8;
export const COUNT = 0;
export const SUM_L = 1;
export const SUM_A = 2;
export const SUM_B = 3;
export const GRADIENTS = 4;
export const XX = 5;
export const XY = 6;
export const YY = 7;

/**
 * The sums of a face. The slopes of its lines are turned as lines drawn along the grain say: on such a line wholly, and less and less up to where
 * it fades out (`drawnGrain`); how strong the lines are is left as it was read.
 * @param grainLines drawn by hand, mm on the face
 */
export function stationSums(face: EvenFace, grainLines: WoodFace['grainLines'] = []): StationSums {
  const { width, height, x0, y0, L } = face;
  const stations = Math.floor(width / STATION);
  const stride = height + 1;
  const sums = new Float32Array(stations * stride * SUMS);
  // Along the grain a little smoothing takes out pores and noise; across it none, so that the reading stays one-sided.
  const smooth = blur({ width, height, data: L }, 1.5, 0).data;
  const drawnAt = grainLines.length > 0 ? drawnGrain(grainLines) : null;
  // One row's sums over each station's stretch, and of its gradients' products the running sums along the row.
  const row = new Float64Array(stations * SUMS);
  const along = new Float64Array((stations + 1) * SUMS);
  for (let r = 0; r < height; r++) {
    row.fill(0);
    addColours(face, r, row, stations);
    if (r > 0 && r < height - 1) addGradients(face, smooth, r, row, stations);
    if (drawnAt) {
      for (let j = 0; j < stations; j++) {
        const strength = (row[j * SUMS + XX] as number) + (row[j * SUMS + YY] as number);
        const drawn = strength > 0 ? drawnAt([x0 + (j + 0.5) * STATION, y0 + r + 0.5]) : null;
        if (drawn) turn(row, j * SUMS, drawn);
      }
    }
    for (let at = 0; at < row.length; at += SUMS)
      for (let k = GRADIENTS; k < SUMS; k++) along[at + SUMS + k] = (along[at + k] as number) + (row[at + k] as number);
    for (let j = 0; j < stations; j++) {
      const [own, at] = [j * SUMS, (j * stride + r) * SUMS];
      for (let k = 0; k < GRADIENTS; k++) sums[at + SUMS + k] = (sums[at + k] as number) + (row[own + k] as number);
      const from = Math.max(0, j - ANGLE_REACH) * SUMS;
      const to = Math.min(stations, j + ANGLE_REACH + 1) * SUMS;
      for (let k = GRADIENTS; k < SUMS; k++)
        sums[at + SUMS + k] = (sums[at + k] as number) + (along[to + k] as number) - (along[from + k] as number);
    }
  }
  return { stations, rows: height, x0, y0, sums };
}

/** Adds a row's sound pixels and their colours to what its stations hold. */
function addColours({ width, L, a, b, wood }: EvenFace, r: number, row: Float64Array, stations: number): void {
  for (let j = 0, i = r * width; j < stations; j++) {
    let [count, l, red, yellow] = [0, 0, 0, 0];
    for (const end = i + STATION; i < end; i++) {
      if (!wood[i]) continue;
      count++;
      l += L[i] as number;
      red += a[i] as number;
      yellow += b[i] as number;
    }
    const at = j * SUMS;
    row[at + COUNT] = count;
    // Offsets keep the running sums small, so that single precision holds.
    row[at + SUM_L] = l - 50 * count;
    row[at + SUM_A] = red - 10 * count;
    row[at + SUM_B] = yellow - 20 * count;
  }
}

/** Adds the products of the gradient at a row's pixels whose neighbours are sound too. */
function addGradients(
  { width, wood }: EvenFace,
  smooth: Float32Array,
  r: number,
  row: Float64Array,
  stations: number,
): void {
  for (let j = 0; j < stations; j++) {
    const first = Math.max(2, j * STATION);
    const end = Math.min(width - 2, (j + 1) * STATION);
    let [count, xx, xy, yy] = [0, 0, 0, 0];
    for (let i = r * width + first; i < r * width + end; i++) {
      if (!(wood[i] && wood[i - 2] && wood[i + 2] && wood[i - width] && wood[i + width])) continue;
      const gx = ((smooth[i + 2] as number) - (smooth[i - 2] as number)) / 4;
      const gy = ((smooth[i + width] as number) - (smooth[i - width] as number)) / 2;
      count++;
      xx += gx * gx;
      xy += gx * gy;
      yy += gy * gy;
    }
    const at = j * SUMS;
    row[at + GRADIENTS] = count;
    row[at + XX] = xx;
    row[at + XY] = xy;
    row[at + YY] = yy;
  }
}

/** Turns one station's products, in the double angle yy - xx and -2 xy, as drawn lines say; their strength xx + yy stays. */
function turn(row: Float64Array, at: number, { share, cos, sin }: DrawnGrain): void {
  const [xx, xy, yy] = [row[at + XX], row[at + XY], row[at + YY]] as [number, number, number];
  const strength = xx + yy;
  const along = (1 - share) * (yy - xx) + share * cos * strength;
  const across = (1 - share) * -2 * xy + share * sin * strength;
  row[at + XX] = (strength - along) / 2;
  row[at + XY] = -across / 2;
  row[at + YY] = (strength + along) / 2;
}
