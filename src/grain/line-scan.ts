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
  readonly data: Float64Array;
  /** y of the face at the middle of the joint, of row i. */
  yOf(i: number): number;
}

/** @param x middle of the joint on the face; @param way 1 where the joint runs with x, -1 where against it */
export function lineGrid(face: FaceFeatures, x: number, degrees: number, way: 1 | -1, length: number): LineGrid {
  const { rows, stations, x0, y0, lines } = face;
  const t = (degrees * Math.PI) / 180;
  const bins = Math.max(1, Math.round(length / BIN));
  const each = Math.max(1, Math.round(length / bins / STATION));
  const data = new Float64Array(rows * bins);
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

/** What a match must exceed to be heard of, for each cell of levels of both grids: [cell of p][cell of q], each `size` rows wide. */
export interface CellFloor {
  readonly size: number;
  readonly across: number;
  readonly least: Float32Array;
}

/** The same floor in all cells of two grids. */
export function cellFloor(p: { rows: number }, q: { rows: number }, size: number, least: number): CellFloor {
  const across = Math.ceil(q.rows / size);
  return { size, across, least: new Float32Array(Math.ceil(p.rows / size) * across).fill(least) };
}

/**
 * Correlation of the wander over every pair of levels of two grids, within the match's reach to both sides; `offer` hears of each that
 * exceeds its cell's floor, and may raise that.
 */
export function matchGrids(
  p: LineGrid,
  q: LineGrid,
  [p0, p1]: Rows,
  [q0, q1]: Rows,
  { size, across, least }: CellFloor,
  offer: (i: number, j: number, match: number, cell: number) => void,
): void {
  const taps = 2 * LINE_REACH + 1;
  const wide = q1 - q0;
  const [weightP, weightQ] = [strengths(p), strengths(q)];
  // Products of the last rows, since a window of them goes down each diagonal as a running sum.
  const rows = Array.from({ length: taps + 1 }, () => new Float64Array(wide));
  const sums = new Float64Array(wide);
  for (let i = 0; i < p1 - p0; i++) {
    const now = rows[i % (taps + 1)] as Float64Array;
    const gone = rows[(i + 1) % (taps + 1)] as Float64Array;
    multiplyRow(p, p0 + i, q, q0, now);
    for (let j = wide - 1; j > 0; j--) {
      const left = i >= taps && j >= taps ? (gone[j - taps] as number) : 0;
      sums[j] = (sums[j - 1] as number) + (now[j] as number) - left;
    }
    sums[0] = now[0] as number;
    if (i < taps - 1) continue;
    const level = p0 + i - LINE_REACH;
    const scale = weightP[level] as number;
    const cells = Math.floor(level / size) * across;
    for (let j = taps - 1; j < wide; j++) {
      const behind = q0 + j - LINE_REACH;
      const match = (sums[j] as number) * scale * (weightQ[behind] as number);
      const cell = cells + Math.floor(behind / size);
      if (match > (least[cell] as number)) offer(level, behind, match, cell);
    }
  }
}

/** Products of one row with each from `q0` on. Four at a time, since each number of the row is then fetched once for four. */
function multiplyRow(p: LineGrid, i: number, q: LineGrid, q0: number, out: Float64Array): void {
  const { bins } = p;
  const [a, b] = [p.data, q.data];
  const first = i * bins;
  let j = 0;
  for (; j + 3 < out.length; j += 4) {
    const at = (q0 + j) * bins;
    let [s, t, u, v] = [0, 0, 0, 0];
    for (let k = 0; k < bins; k++) {
      const x = a[first + k] as number;
      const m = at + k;
      s += x * (b[m] as number);
      t += x * (b[m + bins] as number);
      u += x * (b[m + 2 * bins] as number);
      v += x * (b[m + 3 * bins] as number);
    }
    out[j] = s;
    out[j + 1] = t;
    out[j + 2] = u;
    out[j + 3] = v;
  }
  for (; j < out.length; j++) {
    let s = 0;
    for (let k = 0; k < bins; k++) s += (a[first + k] as number) * (b[(q0 + j) * bins + k] as number);
    out[j] = s;
  }
}

/** One over the root of the sum of squares over the window around each row. */
function strengths({ rows, bins, data }: LineGrid): Float64Array {
  const row = new Float64Array(rows);
  for (let i = 0; i < rows; i++)
    for (let b = 0; b < bins; b++) row[i] = (row[i] as number) + (data[i * bins + b] as number) ** 2;
  return row.map((_, i) => {
    let s = 0;
    for (let k = Math.max(0, i - LINE_REACH); k <= Math.min(rows - 1, i + LINE_REACH); k++) s += row[k] as number;
    return 1 / Math.sqrt(s + 1e-5);
  });
}
