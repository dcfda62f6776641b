import { blur } from '../raster';
import type { EvenFace } from './even-faces';
import { drawnGrain } from './grain-lines';
import type { WoodFace } from './joint-types';

/** Stations along x lie this far apart, mm; each averages the pixels of its own stretch. */
export const STATION = 5;
/** The grain's angle is read over this many stations, either side included. */
const ANGLE_REACH = 2;
/** Deepest that the one-sided features look into the kept wood, mm. */
const DEPTHS = [0, 3, 10, 25, 60] as const;
/** The two bands nearest the joint, mm. */
const NEAR = [0, 2, 5] as const;

/** Which side of a line along x is kept: less y, or more y. */
export type Side = 0 | 1;
export const LESS: Side = 0;
export const MORE: Side = 1;

export const EDGE_RAW = 6;
export const BLOCK_RAW = 16;
/** Where the grain's two angles stand among the block's features: a line that turns by d degrees lowers both by d. */
export const BLOCK_ANGLES = [12, 13] as const;

/**
 * Running sums down each station's column, so that any band of rows is one subtraction: sound pixels, L, a, b, and the gradient's
 * products. Sum at row r counts the rows before r, hence a band on one side of a line never holds a pixel of the other.
 */
export interface StationSums {
  readonly stations: number;
  readonly rows: number;
  readonly x0: number;
  readonly y0: number;
  readonly sums: Float32Array[];
}
export const COUNT = 0;
export const SUM_L = 1;
const SUM_A = 2;
const SUM_B = 3;
const GRADIENTS = 4;
const XX = 5;
const XY = 6;
const YY = 7;

/**
 * The sums of a face. The slopes of its lines are turned as lines drawn along the grain say: on such a line wholly, and less and less up to where
 * it fades out (`drawnGrain`); how strong the lines are is left as it was read.
 * @param grainLines drawn by hand, mm on the face
 */
export function stationSums(face: EvenFace, grainLines: WoodFace['grainLines'] = []): StationSums {
  const { width, height, x0, y0, L, a, b, wood } = face;
  const stations = Math.floor(width / STATION);
  const stride = height + 1;
  const sums: Float32Array[] = Array.from({ length: 8 }, () => new Float32Array(stations * stride));
  const cell = new Float64Array(8);
  // Along the grain a little smoothing takes out pores and noise; across it none, so that the reading stays one-sided.
  const smooth = blur({ width, height, data: L }, 1.5, 0).data;
  const drawnAt = drawnGrain(grainLines);
  for (let j = 0; j < stations; j++) {
    for (let r = 0; r < height; r++) {
      cell.fill(0);
      for (let c = j * STATION; c < (j + 1) * STATION; c++) addPixel(r * width + c, c, r);
      turnCell(x0 + (j + 0.5) * STATION, y0 + r + 0.5);
      const at = j * stride + r;
      for (let k = 0; k < 8; k++) {
        const column = sums[k] as Float32Array;
        column[at + 1] = (column[at] as number) + (cell[k] as number);
      }
    }
  }
  for (const k of [GRADIENTS, XX, XY, YY]) sums[k] = widened(sums[k] as Float32Array, stations, stride);
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

/** Each station's column plus those of its neighbours within ANGLE_REACH: an angle needs more lines than one station crosses. */
function widened(columns: Float32Array, stations: number, stride: number): Float32Array {
  const out = new Float32Array(columns.length);
  for (let j = 0; j < stations; j++) {
    const last = Math.min(stations - 1, j + ANGLE_REACH);
    for (let s = Math.max(0, j - ANGLE_REACH); s <= last; s++) {
      for (let r = 0; r < stride; r++)
        out[j * stride + r] = (out[j * stride + r] as number) + (columns[s * stride + r] as number);
    }
  }
  return out;
}

/** Grain along a band of one side, read over five stations. */
interface Grain {
  degrees: number;
  coherence: number;
  energy: number;
}

/** What one side of a line looks like at one station. */
export interface SideFeatures {
  /** L, a, b of the two bands next to the joint. */
  readonly edge: Float32Array;
  /** L, a, b at four depths; grain angle and log energy of lines, near and deep. */
  readonly block: Float32Array;
  /** Angle of the grain near the joint, degrees, and how sure it is (coherence, 0..1). */
  degrees: number;
  sure: number;
  /** Share of the nearest 5 mm that is sound wood. Under a third nothing else is filled in. */
  known: number;
}

export const emptySide = (): SideFeatures => ({
  edge: new Float32Array(EDGE_RAW),
  block: new Float32Array(BLOCK_RAW),
  degrees: 0,
  sure: 0,
  known: 0,
});

/**
 * Features of one side of the line between row `line - 1` and row `line` at station `j`, written into `out`; those of the block
 * only when asked for.
 */
export function sideFeatures(
  face: StationSums,
  j: number,
  line: number,
  side: Side,
  out: SideFeatures,
  block = true,
): void {
  const base = j * (face.rows + 1);
  const near = band(face, base, line, side, NEAR[0], NEAR[2], COUNT) / (STATION * NEAR[2]);
  out.known = near;
  out.sure = 0;
  if (near < 1 / 3) return;
  colours(face, base, line, side, NEAR, out.edge);
  const close = grain(face, base, line, side, 1, 15);
  out.degrees = close.degrees;
  out.sure = close.coherence;
  if (!block) return;
  colours(face, base, line, side, DEPTHS, out.block);
  const deep = grain(face, base, line, side, 1, 45);
  out.block[12] = close.degrees;
  out.block[13] = deep.degrees;
  out.block[14] = Math.log(close.energy + 0.05);
  out.block[15] = Math.log(deep.energy + 0.05);
}

/** Sum over the rows from `from` to `to` mm deep into the kept side. */
function band(
  { rows, sums }: StationSums,
  base: number,
  line: number,
  side: Side,
  from: number,
  to: number,
  what: number,
): number {
  const column = sums[what] as Float32Array;
  const first = Math.min(rows, Math.max(0, side === LESS ? line - to : line + from));
  const last = Math.min(rows, Math.max(0, side === LESS ? line - from : line + to));
  return (column[base + last] as number) - (column[base + first] as number);
}

/** L, a, b of bands between `depths`; a band that is mostly unsound takes over its shallower neighbour. */
function colours(
  face: StationSums,
  base: number,
  line: number,
  side: Side,
  depths: readonly number[],
  out: Float32Array,
): void {
  for (let k = 0; k + 1 < depths.length; k++) {
    const [from, to] = [depths[k] as number, depths[k + 1] as number];
    const count = band(face, base, line, side, from, to, COUNT);
    for (let channel = 0; channel < 3; channel++) {
      const i = 3 * k + channel;
      if (count >= 0.3 * STATION * (to - from))
        out[i] = band(face, base, line, side, from, to, SUM_L + channel) / count;
      else
        out[i] =
          k > 0
            ? (out[i - 3] as number)
            : count > 0
              ? band(face, base, line, side, from, to, SUM_L + channel) / count
              : 0;
    }
  }
}

function grain(face: StationSums, base: number, line: number, side: Side, from: number, to: number): Grain {
  const count = band(face, base, line, side, from, to, GRADIENTS);
  const xx = band(face, base, line, side, from, to, XX);
  const xy = band(face, base, line, side, from, to, XY);
  const yy = band(face, base, line, side, from, to, YY);
  if (count < 20) return { degrees: 0, coherence: 0, energy: 0 };
  // Lines at angle f have their gradient square to it: tan 2f = -2 xy / (yy - xx).
  const degrees = (Math.atan2(-2 * xy, yy - xx) * 90) / Math.PI;
  return {
    degrees: Math.max(-30, Math.min(30, degrees)),
    coherence: Math.hypot(xx - yy, 2 * xy) / (xx + yy + 1e-9),
    energy: (xx + yy) / count,
  };
}
