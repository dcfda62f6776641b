import type { FaceFeatures } from './face-features';
import { STATION } from './station-sums';

/** Lines are averaged over such a stretch along x, mm, and told from what the row holds over a longer one. */
const NEAR = 50;
const FAR = 600;
/** A line that stands out by more than so many times the mean counts for no more. */
const OUTSTANDING = 2.5;

/** How the lines of a face wander: lightness over a short stretch of each row, less what the row holds over a long one. */
export interface WanderMap {
  readonly stations: number;
  readonly rows: number;
  readonly x0: number;
  readonly y0: number;
  /** [station][row]; stations STATION mm apart, rows 1 mm. */
  readonly data: Float32Array;
  /** Angle of the grain against x in the mean over the face, degrees. */
  readonly degrees: number;
}

export function wanderMap({ lines, stations, rows, x0, y0 }: FaceFeatures): WanderMap {
  let [size, known] = [0, 0];
  for (let i = 0; i < lines.length; i++) {
    if (lines[i] === 0) continue;
    size += Math.abs(lines[i] as number);
    known++;
  }
  const most = (OUTSTANDING * size) / Math.max(1, known);
  // Running sums along x, one row after the other: [station + 1][row].
  const sums = new Float64Array((stations + 1) * rows);
  for (let i = 0; i < stations * rows; i++)
    sums[i + rows] = (sums[i] as number) + Math.max(-most, Math.min(most, lines[i] as number));
  const data = new Float32Array(stations * rows);
  const [near, far] = [NEAR / STATION / 2, FAR / STATION / 2];
  for (let j = 0; j < stations; j++) {
    const [a, b] = [Math.max(0, j - near), Math.min(stations, j + near)];
    const [c, d] = [Math.max(0, j - far), Math.min(stations, j + far)];
    for (let r = 0; r < rows; r++) {
      const here = ((sums[b * rows + r] as number) - (sums[a * rows + r] as number)) / (b - a);
      const around = ((sums[d * rows + r] as number) - (sums[c * rows + r] as number)) / (d - c);
      data[j * rows + r] = here - around;
    }
  }
  return { stations, rows, x0, y0, data: evened(data, stations, rows), degrees: meanAngle(lines, stations, rows) };
}

/** Power is evened over so many rows to either side, and over a long stretch; quiet wood stays quieter. */
const ROWS_AROUND = 15;
const QUIET = 0.3;

/** The same with lines about equally strong all over. */
function evened(data: Float32Array, stations: number, rows: number): Float32Array {
  const sums = new Float64Array((stations + 1) * (rows + 1));
  for (let j = 0; j < stations; j++) {
    let column = 0;
    for (let r = 0; r < rows; r++) {
      column += (data[j * rows + r] as number) ** 2;
      sums[(j + 1) * (rows + 1) + r + 1] = (sums[j * (rows + 1) + r + 1] as number) + column;
    }
  }
  const whole = (sums[sums.length - 1] as number) / (stations * rows);
  const reach = FAR / STATION / 2;
  const out = new Float32Array(data.length);
  for (let j = 0; j < stations; j++) {
    const [a, b] = [Math.max(0, j - reach) * (rows + 1), Math.min(stations, j + reach) * (rows + 1)];
    for (let r = 0; r < rows; r++) {
      const [c, d] = [Math.max(0, r - ROWS_AROUND), Math.min(rows, r + ROWS_AROUND)];
      const area = ((b - a) / (rows + 1)) * (d - c);
      const power =
        (sums[b + d] as number) - (sums[b + c] as number) - (sums[a + d] as number) + (sums[a + c] as number);
      out[j * rows + r] = (data[j * rows + r] as number) / Math.sqrt(power / area + QUIET * whole + 1e-9);
    }
  }
  return out;
}

/** From the gradient's products all over: lines at angle f have it square to them, tan 2f = -2 xy / (yy - xx). */
function meanAngle(lines: Float32Array, stations: number, rows: number): number {
  let [xx, xy, yy] = [0, 0, 0];
  for (let j = 2; j + 2 < stations; j++) {
    for (let r = 1; r + 1 < rows; r++) {
      const i = j * rows + r;
      const [left, right] = [lines[i - 2 * rows] as number, lines[i + 2 * rows] as number];
      const [above, below] = [lines[i - 1] as number, lines[i + 1] as number];
      if (left === 0 || right === 0 || above === 0 || below === 0) continue;
      const [gx, gy] = [(right - left) / (4 * STATION), (below - above) / 2];
      xx += gx * gx;
      xy += gx * gy;
      yy += gy * gy;
    }
  }
  return (Math.atan2(-2 * xy, yy - xx) * 90) / Math.PI;
}
