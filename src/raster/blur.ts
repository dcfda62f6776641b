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
  if (sigmaX > 0) now = along(now, width, height, gaussian(sigmaX), 1, width);
  if (sigmaY > 0) now = along(now, height, width, gaussian(sigmaY), width, 1);
  return { width, height, data: now };
}

/** One axis of the blur: `count` places `stride` apart, on `lines` lines `lineStride` apart. */
function along(data: Float32Array, count: number, lines: number, w: Float32Array, stride: number, lineStride: number) {
  const reach = (w.length - 1) / 2;
  const out = new Float32Array(data.length);
  for (let line = 0; line < lines; line++) {
    const at = line * lineStride;
    for (let i = 0; i < count; i++) {
      let s = 0;
      if (i >= reach && i < count - reach) {
        const from = at + (i - reach) * stride;
        for (let k = 0; k < w.length; k++) s += (w[k] as number) * (data[from + k * stride] as number);
      } else {
        for (let k = 0; k < w.length; k++) {
          const j = Math.min(Math.max(i + k - reach, 0), count - 1);
          s += (w[k] as number) * (data[at + j * stride] as number);
        }
      }
      out[at + i * stride] = s;
    }
  }
  return out;
}
