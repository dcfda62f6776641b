import type { FaceFeatures } from './face-features';
import { LINE_REACH } from './lines';
import { STATION } from './station-sums';

/** Lines are averaged over such a stretch along the joint, mm: grain is long, so little is lost. */
const BIN = 50;

/**
 * The wander of the lines around every level of a face along lines of one angle: row by row from right to left of the joint's direction,
 * 1 mm apart, each without its own mean.
 */
export interface LineGrid {
  readonly rows: number;
  readonly bins: number;
  readonly data: Float32Array;
  /** y of the face at the middle of the joint, of row i. */
  yOf(i: number): number;
}

/** @param x middle of the joint on the face; @param way 1 where the joint runs with x, -1 where against it */
export function lineGrid(face: FaceFeatures, x: number, degrees: number, way: 1 | -1, length: number): LineGrid {
  const { rows, stations, x0, y0, lines } = face;
  const t = (degrees * Math.PI) / 180;
  const bins = Math.max(1, Math.round(length / BIN));
  const each = Math.max(1, Math.round(length / bins / STATION));
  const data = new Float32Array(rows * bins);
  for (let k = 0; k < bins * each; k++) {
    const along = way * ((k + 0.5) / (bins * each) - 0.5) * length;
    const j = Math.floor((x + along * Math.cos(t) - x0) / STATION);
    if (j < 0 || j >= stations) continue;
    const shift = Math.round(along * Math.sin(t));
    const bin = Math.floor(k / each);
    for (let i = 0; i < rows; i++) {
      const r = (way === 1 ? i : rows - 1 - i) + shift;
      if (r < 0 || r >= rows) continue;
      const at = i * bins + bin;
      data[at] = (data[at] as number) + (lines[j * rows + r] as number) / each;
    }
  }
  for (let i = 0; i < rows; i++) {
    let mean = 0;
    for (let b = 0; b < bins; b++) mean += (data[i * bins + b] as number) / bins;
    for (let b = 0; b < bins; b++) data[i * bins + b] = (data[i * bins + b] as number) - mean;
  }
  return { rows, bins, data, yOf: (i) => y0 + (way === 1 ? i : rows - 1 - i) + 0.5 };
}

/** Rows of a grid, from the first to before the last. */
export type Rows = readonly [from: number, to: number];

/**
 * Correlation of the wander over every pair of levels of two grids, within the match's reach to both sides; `offer` hears of each
 * that is at least `least`.
 */
export function matchGrids(
  p: LineGrid,
  q: LineGrid,
  [p0, p1]: Rows,
  [q0, q1]: Rows,
  least: number,
  offer: (i: number, j: number, match: number) => void,
): void {
  const { bins } = p;
  const wide = q1 - q0;
  const products = new Float32Array((p1 - p0) * wide);
  for (let i = p0; i < p1; i++) {
    for (let j = q0; j < q1; j++) {
      let s = 0;
      for (let a = i * bins, b = j * bins, end = a + bins; a < end; a++, b++)
        s += (p.data[a] as number) * (q.data[b] as number);
      products[(i - p0) * wide + j - q0] = s;
    }
  }
  const [powerP, powerQ] = [powers(p), powers(q)];
  const taps = 2 * LINE_REACH + 1;
  // Down each diagonal a window of taps is kept as a running sum.
  for (let d = -(p1 - p0) + taps; d <= wide - taps; d++) {
    const start = Math.max(0, -d);
    const end = Math.min(p1 - p0, wide - d);
    let s = 0;
    for (let i = start; i < end; i++) {
      s += products[i * wide + i + d] as number;
      if (i - start < taps - 1) continue;
      if (i - start >= taps) s -= products[(i - taps) * wide + i - taps + d] as number;
      const [ci, cj] = [p0 + i - LINE_REACH, q0 + i + d - LINE_REACH];
      const match = s / Math.sqrt((powerP[ci] as number) * (powerQ[cj] as number) + 1e-9);
      if (match >= least) offer(ci, cj, match);
    }
  }
}

/** Sum of squares over the window around each row. */
function powers({ rows, bins, data }: LineGrid): Float32Array {
  const row = new Float32Array(rows);
  for (let i = 0; i < data.length; i++)
    row[Math.floor(i / bins)] = (row[Math.floor(i / bins)] as number) + (data[i] as number) ** 2;
  return row.map((_, i) => {
    let s = 0;
    for (let k = Math.max(0, i - LINE_REACH); k <= Math.min(rows - 1, i + LINE_REACH); k++) s += row[k] as number;
    return s;
  });
}
