import type { Point, Polygon } from '../geometry';
import type { Calibration, Scale } from '../job';
import { measure } from './measure';

/**
 * The camera's part of an outline's doubt, one standard deviation, mm. A reference that lies on the slab tells all of the photo alike, so what a point
 * is usually off by stands for it. Eight taps on the slab's own rim tell nothing beyond it, and places along its edges far worse than how wide it is
 * between them: there it is what the outline is off by square to itself (root of the mean of squares along it).
 */
export function outlineDoubt(
  { kind }: Pick<Scale, 'kind'>,
  calibration: Calibration,
  outline: Polygon<'face'>,
): number {
  if (kind !== 'slab') return medianSigma(calibration);
  const view = measure(calibration);
  let [sum, whole] = [0, 0];
  outline.forEach((p, i) => {
    const q = outline[(i + 1) % outline.length] as Point<'face'>;
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const length = Math.hypot(dx, dy);
    const sigma = length > 0 ? view.sigma([p[0] + dx / 2, p[1] + dy / 2], [-dy / length, dx / length]) : 0;
    if (!Number.isFinite(sigma)) return;
    sum += length * sigma ** 2;
    whole += length;
  });
  return Math.sqrt(sum / (whole || 1));
}

/** Median of one standard deviation over the photo: what a point of the outline is usually off by. */
export function medianSigma({ sigma }: Calibration): number {
  const sorted = sigma.map(({ mm }) => mm).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}
