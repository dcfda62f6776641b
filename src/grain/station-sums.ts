import { blur } from '../raster';
import type { EvenFace } from './even-faces';
import { drawnGrain } from './grain-lines';
import type { WoodFace } from './joint-types';

/** Stations along x lie this far apart, mm; each averages the pixels of its own stretch. */
export const STATION = 5;
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
  const { width, height, x0, y0, L, a, b, wood } = face;
  const stations = Math.floor(width / STATION);
  const stride = height + 1;
  const sums = new Float32Array(stations * stride * SUMS);
  const cell = new Float64Array(SUMS);
  // Along the grain a little smoothing takes out pores and noise; across it none, so that the reading stays one-sided.
  const smooth = blur({ width, height, data: L }, 1.5, 0).data;
  const drawnAt = drawnGrain(grainLines);
  for (let j = 0; j < stations; j++) {
    for (let r = 0; r < height; r++) {
      cell.fill(0);
      for (let c = j * STATION; c < (j + 1) * STATION; c++) addPixel(r * width + c, c, r);
      turnCell(x0 + (j + 0.5) * STATION, y0 + r + 0.5);
      const at = (j * stride + r) * SUMS;
      for (let k = 0; k < SUMS; k++) sums[at + SUMS + k] = (sums[at + k] as number) + (cell[k] as number);
    }
  }
  widen(sums, stations, stride);
  return { stations, rows: height, x0, y0, sums };

  /** The gradient's products in the double angle: yy - xx and -2 xy, and their strength xx + yy. */
  function turnCell(x: number, y: number): void {
    const [xx, xy, yy] = [cell[XX], cell[XY], cell[YY]] as [number, number, number];
    const strength = xx + yy;
    const drawn = strength > 0 ? drawnAt([x, y]) : null;
    if (!drawn) return;
    const along = (1 - drawn.share) * (yy - xx) + drawn.share * drawn.cos * strength;
    const across = (1 - drawn.share) * -2 * xy + drawn.share * drawn.sin * strength;
    cell[XX] = (strength - along) / 2;
    cell[XY] = -across / 2;
    cell[YY] = (strength + along) / 2;
  }

  function addPixel(i: number, c: number, r: number): void {
    if (!wood[i]) return;
    cell[COUNT] = (cell[COUNT] as number) + 1;
    // Offsets keep the running sums small, so that single precision holds.
    cell[SUM_L] = (cell[SUM_L] as number) + (L[i] as number) - 50;
    cell[SUM_A] = (cell[SUM_A] as number) + (a[i] as number) - 10;
    cell[SUM_B] = (cell[SUM_B] as number) + (b[i] as number) - 20;
    if (c < 2 || c >= width - 2 || r < 1 || r >= height - 1) return;
    if (!(wood[i - 2] && wood[i + 2] && wood[i - width] && wood[i + width])) return;
    const gx = ((smooth[i + 2] as number) - (smooth[i - 2] as number)) / 4;
    const gy = ((smooth[i + width] as number) - (smooth[i - width] as number)) / 2;
    cell[GRADIENTS] = (cell[GRADIENTS] as number) + 1;
    cell[XX] = (cell[XX] as number) + gx * gx;
    cell[XY] = (cell[XY] as number) + gx * gy;
    cell[YY] = (cell[YY] as number) + gy * gy;
  }
}

/** The gradients of each station's column plus those of its neighbours within ANGLE_REACH. */
function widen(sums: Float32Array, stations: number, stride: number): void {
  const column = stride * SUMS;
  const own = sums.slice();
  for (let j = 0; j < stations; j++) {
    const last = Math.min(stations - 1, j + ANGLE_REACH);
    for (let s = Math.max(0, j - ANGLE_REACH); s <= last; s++) {
      if (s === j) continue;
      for (let at = j * column, from = s * column, end = at + column; at < end; at += SUMS, from += SUMS) {
        for (let k = GRADIENTS; k < SUMS; k++) sums[at + k] = (sums[at + k] as number) + (own[from + k] as number);
      }
    }
  }
}
