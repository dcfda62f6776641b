import type { Plane } from './raster';

/** Weights of a Gaussian of the given sigma (pixels), cut at three sigma, sum 1. */
function gaussian(sigma: number): Float32Array {
  const reach = Math.max(1, Math.ceil(3 * sigma));
  const w = Float32Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const sum = w.reduce((s, x) => s + x, 0);
  return w.map((x) => x / sum);
}

/** From this sigma on, pixels, three running means stand in for the Gaussian: they take the same time however wide they are. */
const WIDE = 4;

/**
 * Gaussian blur with sigmas in pixels along x and y (0 leaves that axis alone); the edge pixel repeats outside. A wide one is three running
 * means of the same variance (Wells 1986), whose weights differ from the Gaussian's by less than 3 % of its peak.
 * Blur values and mask alike and divide, and what is masked does not bleed in.
 */
export function blur({ width, height, data }: Plane, sigmaX: number, sigmaY = sigmaX): Plane {
  let now = data;
  if (sigmaX > 0)
    now = sigmaX < WIDE ? across(now, width, height, gaussian(sigmaX)) : boxes(now, width, height, sigmaX);
  if (sigmaY > 0)
    now = sigmaY < WIDE ? down(now, width, height, gaussian(sigmaY)) : boxesDown(now, width, height, sigmaY);
  return { width, height, data: now };
}

/** Half widths of three boxes whose variances, (w * w - 1) / 12 each, add up to about sigma squared (Kovesi 2010). */
function boxHalves(sigma: number): number[] {
  const ideal = Math.sqrt((12 * sigma * sigma) / 3 + 1);
  const lower = 2 * Math.floor((ideal - 1) / 2) + 1;
  const narrow = Math.round((12 * sigma * sigma - 3 * lower * lower - 12 * lower - 9) / (-4 * lower - 4));
  return [0, 1, 2].map((i) => ((i < narrow ? lower : lower + 2) - 1) / 2);
}

function boxes(data: Float32Array, width: number, height: number, sigma: number): Float32Array {
  let from = data;
  for (const half of boxHalves(sigma)) {
    const out = new Float32Array(data.length);
    for (let r = 0; r < height; r++) {
      const row = r * width;
      const at = (c: number) => from[row + Math.min(width - 1, Math.max(0, c))] as number;
      let sum = 0;
      for (let c = -half; c <= half; c++) sum += at(c);
      for (let c = 0; c < width; c++) {
        out[row + c] = sum / (2 * half + 1);
        sum += at(c + half + 1) - at(c - half);
      }
    }
    from = out;
  }
  return from;
}

/** Down the columns, a row of running sums at a time. */
function boxesDown(data: Float32Array, width: number, height: number, sigma: number): Float32Array {
  let from = data;
  for (const half of boxHalves(sigma)) {
    const out = new Float32Array(data.length);
    const sums = new Float64Array(width);
    const rowAt = (r: number) => Math.min(height - 1, Math.max(0, r)) * width;
    for (let r = -half; r <= half; r++) {
      for (let c = 0, i = rowAt(r); c < width; c++, i++) sums[c] = (sums[c] as number) + (from[i] as number);
    }
    for (let r = 0; r < height; r++) {
      const [enter, leave] = [rowAt(r + half + 1), rowAt(r - half)];
      for (let c = 0; c < width; c++) {
        out[r * width + c] = (sums[c] as number) / (2 * half + 1);
        sums[c] = (sums[c] as number) + (from[enter + c] as number) - (from[leave + c] as number);
      }
    }
    from = out;
  }
  return from;
}

function across(data: Float32Array, width: number, height: number, w: Float32Array): Float32Array {
  const reach = (w.length - 1) / 2;
  const out = new Float32Array(data.length);
  const padded = new Float32Array(width + 2 * reach);
  const starts = Int32Array.from(w, (_, k) => k);
  for (let r = 0; r < height; r++) {
    const row = data.subarray(r * width, (r + 1) * width);
    padded.fill(row[0] as number, 0, reach);
    padded.set(row, reach);
    padded.fill(row[width - 1] as number, width + reach);
    addUp(padded, starts, w, out, r * width, width);
  }
  return out;
}

function down(data: Float32Array, width: number, height: number, w: Float32Array): Float32Array {
  const reach = (w.length - 1) / 2;
  const out = new Float32Array(data.length);
  const starts = new Int32Array(w.length);
  for (let r = 0; r < height; r++) {
    for (let k = 0; k < w.length; k++) starts[k] = Math.min(Math.max(r + k - reach, 0), height - 1) * width;
    addUp(data, starts, w, out, r * width, width);
  }
  return out;
}

/**
 * A row of `count` sums written to `out` from `to`: of the rows that begin at `starts`, weighed by a kernel that is the same from either end.
 * Whole rows are added up, since memory runs along them, and four at a time, since reading and writing the sums takes as long as adding.
 */
function addUp(from: Float32Array, starts: Int32Array, w: Float32Array, out: Float32Array, to: number, count: number) {
  const reach = (w.length - 1) / 2;
  const [middle, w0, end] = [starts[reach] as number, w[reach] as number, to + count];
  for (let i = to, m = middle; i < end; i++, m++) out[i] = w0 * (from[m] as number);
  let k = 1;
  for (; k < reach; k += 2) {
    const [w1, w2] = [w[reach + k] as number, w[reach + k + 1] as number];
    let [a, b, c, d] = [starts[reach - k], starts[reach + k], starts[reach - k - 1], starts[reach + k + 1]] as Four;
    for (let i = to; i < end; i++, a++, b++, c++, d++)
      out[i] =
        (out[i] as number) +
        w1 * ((from[a] as number) + (from[b] as number)) +
        w2 * ((from[c] as number) + (from[d] as number));
  }
  if (k > reach) return;
  const w1 = w[reach + k] as number;
  let [a, b] = [starts[reach - k] as number, starts[reach + k] as number];
  for (let i = to; i < end; i++, a++, b++)
    out[i] = (out[i] as number) + w1 * ((from[a] as number) + (from[b] as number));
}
type Four = [number, number, number, number];
