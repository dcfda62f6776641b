import { COUNT, STATION, type StationSums, SUM_L, SUMS } from './station-sums';

/** The two-sided match looks this far to both sides of each line, mm: the off-cut is still in the photo. */
export const LINE_REACH = 6;
export const LINE_TAPS = 2 * LINE_REACH + 1;

/** Lines are what is left of lightness without its mean over about three rings, mm. */
const BROAD = 6;

/** Lightness less its local mean across the grain, averaged over each station's stretch: [station][row], 0 where no sound wood is. */
export function highPassed({ sums, stations, rows }: StationSums): Float32Array {
  const out = new Float32Array(stations * rows);
  const kernel = Float32Array.from({ length: 3 * BROAD }, (_, i) => Math.exp(-(i * i) / (2 * BROAD * BROAD)));
  const mean = new Float32Array(rows);
  const share = new Float32Array(rows);
  for (let j = 0; j < stations; j++) {
    const base = j * (rows + 1);
    for (let r = 0; r < rows; r++) {
      const at = (base + r) * SUMS;
      const n = (sums[at + SUMS + COUNT] as number) - (sums[at + COUNT] as number);
      share[r] = n;
      mean[r] = n > 0 ? ((sums[at + SUMS + SUM_L] as number) - (sums[at + SUM_L] as number)) / n : 0;
    }
    for (let r = 0; r < rows; r++) {
      if ((share[r] as number) <= STATION / 2) continue;
      let [sum, weight] = [0, 0];
      const last = Math.min(rows - 1, r + kernel.length - 1);
      for (let q = Math.max(0, r - kernel.length + 1); q <= last; q++) {
        const w = (kernel[Math.abs(q - r)] as number) * (share[q] as number);
        sum += w * (mean[q] as number);
        weight += w;
      }
      out[j * rows + r] = (mean[r] as number) - sum / weight;
    }
  }
  return out;
}
