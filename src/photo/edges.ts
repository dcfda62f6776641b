import type { Point } from '../geometry';
import type { Raster } from '../raster';

/** An edge between dark and light found along a short line across it. */
export interface EdgeSpot {
  readonly px: Point<'photo'>;
  /** Difference in grey between its two sides. */
  readonly contrast: number;
  /** Width over which it changes, px: contrast over steepest slope. */
  readonly blur: number;
}

/** Grey at a place between pixels (bilinear); the photo's border goes on outside. */
export function sample(gray: Raster, u: number, v: number): number {
  const x = Math.min(Math.max(u, 0), gray.width - 1.001);
  const y = Math.min(Math.max(v, 0), gray.height - 1.001);
  const [c, r] = [Math.floor(x), Math.floor(y)];
  const [fx, fy] = [x - c, y - r];
  const at = r * gray.width + c;
  const d = gray.data;
  const upper = (d[at] as number) * (1 - fx) + (d[at + 1] as number) * fx;
  const lower = (d[at + gray.width] as number) * (1 - fx) + (d[at + gray.width + 1] as number) * fx;
  return upper * (1 - fy) + lower * fy;
}

const STEP = 0.25;

/**
 * Where grey rises through the middle between its two sides, going from dark to light across the line from `a` to `b`, whose left side
 * (as the turn from +x to +y has it, its right-hand side on screen) is the one given by `light`. Profiles side by side are averaged.
 * @param light unit direction, px, from the dark side to the light one, square to the line
 * @param reach how far to look on either side, px
 * @returns null where no clean rise is found
 */
export function edgeSpot(
  gray: Raster,
  a: Point<'photo'>,
  b: Point<'photo'>,
  light: readonly [number, number],
  reach: number,
): EdgeSpot | null {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const across = Math.max(3, Math.round(length));
  const middle: [number, number] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const count = 2 * Math.round(reach / STEP) + 1;
  const half = (count - 1) / 2;
  let shift = 0;
  for (let pass = 0; pass < 3; pass++) {
    const profile = new Float64Array(count);
    for (let k = 0; k < across; k++) {
      const t = across === 1 ? 0.5 : k / (across - 1);
      const [u, v] = [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
      for (let i = 0; i < count; i++) {
        const d = (i - half) * STEP + shift;
        profile[i] = (profile[i] as number) + sample(gray, u + light[0] * d, v + light[1] * d) / across;
      }
    }
    const rise = middleOfRise(profile);
    if (!rise) return null;
    const move = (rise.at - half) * STEP;
    shift += move;
    if (Math.abs(shift) > reach) return null;
    if (Math.abs(move) < 0.3 || pass === 2) {
      return {
        px: [middle[0] + light[0] * shift, middle[1] + light[1] * shift],
        contrast: rise.contrast,
        blur: rise.contrast / (rise.steepest / STEP),
      };
    }
  }
  return null;
}

/** Index at which a rising profile passes the middle between the levels of its two ends. */
function middleOfRise(profile: Float64Array): { at: number; contrast: number; steepest: number } | null {
  const n = profile.length;
  const end = Math.max(2, Math.round(n * 0.2));
  let [dark, bright] = [0, 0];
  for (let i = 0; i < end; i++) {
    dark += (profile[i] as number) / end;
    bright += (profile[n - 1 - i] as number) / end;
  }
  const contrast = bright - dark;
  if (contrast < 12) return null;
  const level = (dark + bright) / 2;
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
