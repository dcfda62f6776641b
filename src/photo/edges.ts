import type { Point } from '../geometry';
import { type Raster, sample } from '../raster';

/** An edge between dark and light found along a short line across it. */
export interface EdgeSpot {
  readonly px: Point<'photo'>;
  /** Width over which it changes, px: difference of its two sides over the steepest slope. */
  readonly blur: number;
}

/**
 * Which level between the two sides of an edge counts as the edge. Half the grey values lie outside the true edge by some tenths of a
 * pixel, since cameras write light along a curve; half the light lies on it where the curve is sRGB's.
 */
export type EdgeLevel = 'half the grey' | 'half the light';

/** Spacing of samples across an edge, px. */
const STEP = 0.25;

/**
 * Where grey rises through the middle between its two sides, looking across the short line from `a` to `b`, which lies along the edge
 * to within `reach`. Profiles side by side along it are averaged.
 * @param light unit direction, px, from the dark side to the light one, square to the line
 * @param reach how far to look on either side, px
 * @param level what counts as the edge between the two sides
 * @returns null where no clean rise is found
 */
export function edgeSpot(
  gray: Raster,
  a: Point<'photo'>,
  b: Point<'photo'>,
  light: readonly [number, number],
  reach: number,
  level: EdgeLevel,
): EdgeSpot | null {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const across = Math.max(3, Math.round(length));
  const middle: [number, number] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const count = 2 * Math.round(reach / STEP) + 1;
  const half = (count - 1) / 2;
  const grey = [0];
  let shift = 0;
  for (let pass = 0; pass < 3; pass++) {
    const profile = new Float64Array(count);
    for (let k = 0; k < across; k++) {
      const t = k / (across - 1);
      const [u, v] = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
      for (let i = 0; i < count; i++) {
        const d = (i - half) * STEP + shift;
        sample(gray, u + light[0] * d, v + light[1] * d, grey);
        profile[i] = (profile[i] as number) + (grey[0] as number) / across;
      }
    }
    const rise = middleOfRise(profile, level);
    if (!rise) return null;
    const move = (rise.at - half) * STEP;
    shift += move;
    if (Math.abs(shift) > reach) return null;
    if (Math.abs(move) < 0.3 || pass === 2) {
      return {
        px: [middle[0] + light[0] * shift, middle[1] + light[1] * shift],
        blur: rise.contrast / (rise.steepest / STEP),
      };
    }
  }
  return null;
}

/** Index at which a rising profile passes the middle between the levels of its two ends. */
function middleOfRise(profile: Float64Array, by: EdgeLevel): { at: number; contrast: number; steepest: number } | null {
  const n = profile.length;
  const end = Math.max(2, Math.round(n * 0.2));
  let [dark, bright] = [0, 0];
  for (let i = 0; i < end; i++) {
    dark += (profile[i] as number) / end;
    bright += (profile[n - 1 - i] as number) / end;
  }
  const contrast = bright - dark;
  if (contrast < 12) return null;
  const level = by === 'half the grey' ? (dark + bright) / 2 : toGrey((toLight(dark) + toLight(bright)) / 2);
  let at = -1;
  let steepest = 0;
  for (let i = 1; i < n; i++) {
    const [before, now] = [profile[i - 1] as number, profile[i] as number];
    steepest = Math.max(steepest, now - before);
    if (before < level && now >= level && (at < 0 || Math.abs(i - n / 2) < Math.abs(at - n / 2))) {
      at = i - 1 + (level - before) / (now - before);
    }
  }
  return at < 0 ? null : { at, contrast, steepest };
}

/** The light behind a grey value, both to 255 (sRGB's curve, IEC 61966-2-1). */
export function toLight(grey: number): number {
  const share = grey / 255;
  return 255 * (share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4);
}

function toGrey(light: number): number {
  const share = light / 255;
  return 255 * (share <= 0.0031308 ? 12.92 * share : 1.055 * share ** (1 / 2.4) - 0.055);
}
