import type { Point } from '../geometry';
import type { Scale } from '../job';
import type { Measure } from './measure';

/** A height of the face as it was read: over any plane, z up, mm. */
export interface FaceReading {
  readonly at: Point<'face'>;
  readonly z: number;
}

/** Fewer readings than this say nothing of a warp. */
const LEAST = 4;

/**
 * Readings of a face as the heights that a calibration takes: over the face's mean plane, each at the pixel that shows it. Empty where there
 * are too few, or all on one line.
 */
export function heightsFrom(readings: readonly FaceReading[], view: Measure): NonNullable<Scale['heights']> {
  if (readings.length < LEAST) return [];
  const n = readings.length;
  const [mx, my, mz] = [0, 1, 2].map(
    (k) => readings.reduce((sum, { at, z }) => sum + (k === 2 ? z : (at[k] as number)), 0) / n,
  ) as [number, number, number];
  let [xx, xy, yy, xz, yz] = [0, 0, 0, 0, 0];
  for (const { at, z } of readings) {
    const [x, y, h] = [at[0] - mx, at[1] - my, z - mz];
    xx += x * x;
    xy += x * y;
    yy += y * y;
    xz += x * h;
    yz += y * h;
  }
  const det = xx * yy - xy * xy;
  if (det < 1e-6 * xx * yy) return [];
  const [a, b] = [(xz * yy - yz * xy) / det, (yz * xx - xz * xy) / det];
  return readings.flatMap(({ at, z }) => {
    const px = view.toPhoto(at);
    return Number.isFinite(px[0] + px[1])
      ? [{ px: [px[0], px[1]], z: z - mz - a * (at[0] - mx) - b * (at[1] - my) }]
      : [];
  });
}
