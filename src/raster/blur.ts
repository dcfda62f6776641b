import type { Plane } from './raster';

/** Weights of a Gaussian of the given sigma (pixels), cut at three sigma, sum 1. */
function gaussian(sigma: number): Float32Array {
  const reach = Math.max(1, Math.ceil(3 * sigma));
  const w = Float32Array.from({ length: 2 * reach + 1 }, (_, i) => Math.exp(-((i - reach) ** 2) / (2 * sigma * sigma)));
  const sum = w.reduce((s, x) => s + x, 0);
  return w.map((x) => x / sum);
}

/**
 * Gaussian blur with sigmas in pixels along x and y (0 leaves that axis alone); the edge pixel repeats outside.
 * Blur values and mask alike and divide, and what is masked does not bleed in.
 */
export function blur({ width, height, data }: Plane, sigmaX: number, sigmaY = sigmaX): Plane {
  let now = data;
  if (sigmaX > 0) now = across(now, width, height, gaussian(sigmaX));
  if (sigmaY > 0) now = down(now, width, height, gaussian(sigmaY));
  return { width, height, data: now };
}

function across(data: Float32Array, width: number, height: number, w: Float32Array): Float32Array {
  const reach = (w.length - 1) / 2;
  const out = new Float32Array(data.length);
  const padded = new Float32Array(width + 2 * reach);
  for (let r = 0; r < height; r++) {
    const row = data.subarray(r * width, (r + 1) * width);
    padded.fill(row[0] as number, 0, reach);
    padded.set(row, reach);
    padded.fill(row[width - 1] as number, width + reach);
    for (let c = 0; c < width; c++) {
      let s = 0;
      for (let k = 0; k < w.length; k++) s += (w[k] as number) * (padded[c + k] as number);
      out[r * width + c] = s;
    }
  }
  return out;
}

/** Whole rows are added up, since memory runs along them. */
function down(data: Float32Array, width: number, height: number, w: Float32Array): Float32Array {
  const reach = (w.length - 1) / 2;
  const out = new Float32Array(data.length);
  for (let r = 0; r < height; r++) {
    const to = out.subarray(r * width, (r + 1) * width);
    for (let k = 0; k < w.length; k++) {
      const from = Math.min(Math.max(r + k - reach, 0), height - 1) * width;
      const weight = w[k] as number;
      for (let c = 0; c < width; c++) to[c] = (to[c] as number) + weight * (data[from + c] as number);
    }
  }
  return out;
}
