import type { Candidate } from './candidate';
import { clearances } from './clearance';
import type { FaceStock } from './stock';

/**
 * The chance that a place still fits when the saw meets the wood: outlines are known to a sigma only, and a place that lies close to its
 * limits all around needs every ± to fall well.
 */

/** The standard normal distribution, by the error function of Abramowitz and Stegun 7.1.26 (off by 1.5e-7 at most). */
export function normalShare(z: number): number {
  const x = Math.abs(z) / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const poly = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))));
  const half = (1 - poly * Math.exp(-x * x)) / 2;
  return z < 0 ? 0.5 - half : 0.5 + half;
}

/**
 * Chance, 0..1, that every strip of a place lies in the wood and a live edge keeps its band, taking each sawn side, what
 * must be kept off, and each end of the band for a limit of its own that misses by the sigma of the outline there.
 */
export function chanceOfFit({ top, placement, stock }: Candidate): number {
  let chance = 1;
  placement.strips.forEach((strip, i) => {
    const face = stock[i] as FaceStock;
    const sigma = face.margin / 2;
    if (sigma === 0) return;
    for (const limit of clearances(strip, face)) chance *= normalShare(limit.room / limit.sigma);
    if (i > 0 || top.front !== 'live') return;
    const [least, most] = placement.depth;
    chance *= normalShare((least - top.depth[0]) / sigma) * normalShare((top.depth[1] - most) / sigma);
  });
  return chance;
}
