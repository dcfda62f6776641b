import type { Raster } from './raster';

/**
 * Bilinear sample at (u, v) in pixels, whole numbers being pixel centres; outside, the nearest edge pixel counts.
 * Writes one value a channel (0..255) into `out`.
 */
export function sample(raster: Raster, u: number, v: number, out: Float32Array | number[]): void {
  const { width, height, channels, data } = raster;
  const x = Math.min(Math.max(u, 0), width - 1);
  const y = Math.min(Math.max(v, 0), height - 1);
  const c = Math.min(Math.floor(x), Math.max(0, width - 2));
  const r = Math.min(Math.floor(y), Math.max(0, height - 2));
  const right = width > 1 ? channels : 0;
  const down = height > 1 ? width * channels : 0;
  const fx = x - c;
  const fy = y - r;
  const at = (r * width + c) * channels;
  for (let k = 0; k < channels; k++) {
    const i = at + k;
    const top = (data[i] as number) * (1 - fx) + (data[i + right] as number) * fx;
    const bottom = (data[i + down] as number) * (1 - fx) + (data[i + down + right] as number) * fx;
    out[k] = top * (1 - fy) + bottom * fy;
  }
}
