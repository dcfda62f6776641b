import type { Point } from '../geometry';
import type { Raster } from '../raster';
import { type Cv, scope, toMat } from './cv';
import type { Local } from './marks';
import { type Corners, squareTo } from './quad';

/** Four corners that may be a sheet's, in the small picture. */
export interface Candidate {
  readonly corners: Corners;
  readonly score: number;
  /** In px2 of the small picture. */
  readonly area: number;
}

/** The least of red, green and blue: paper is bright in all three, wood dark in blue. */
export function whitenessOf({ width, height, channels, data }: Raster): Raster {
  if (channels === 1) return { width, height, channels, data };
  const out = new Uint8ClampedArray(width * height);
  for (let i = 0, k = 0; i < out.length; i++, k += channels) {
    out[i] = Math.min(data[k] as number, data[k + 1] as number, data[k + 2] as number);
  }
  return { width, height, channels: 1, data: out };
}

/**
 * How colourless a photo is, 0 to 255: the least of red, green and blue over the greatest. Paper in a shadow is as colourless as in the
 * light, and may be darker than the wood beside it. Null for a photo without colour.
 */
export function colourlessnessOf({ width, height, channels, data }: Raster): Raster | null {
  if (channels === 1) return null;
  const out = new Uint8ClampedArray(width * height);
  for (let i = 0, k = 0; i < out.length; i++, k += channels) {
    const [r, g, b] = [data[k] as number, data[k + 1] as number, data[k + 2] as number];
    const most = Math.max(r, g, b);
    out[i] = most < DARK ? 0 : (255 * Math.min(r, g, b)) / most;
  }
  return { width, height, channels: 1, data: out };
}

/** What is darker than this grey is not told to be paper by its colour. */
const DARK = 50;
/** Candidates kept of each map. */
const KEPT = 6;

/** Four-sided bright blobs of every brightness, best first. */
export function quadrilaterals(cv: Cv, picture: Raster, aspect: number): Candidate[] {
  return scope(cv, (own) => {
    const gray = own(toMat(cv, picture));
    const mask = own(new cv.Mat());
    const found: Candidate[] = [];
    for (let level = 80; level <= 240; level += 10) {
      cv.threshold(gray, mask, level, 255, cv.THRESH_BINARY);
      const contours = own(new cv.MatVector());
      cv.findContours(mask, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
      for (let i = 0; i < contours.size(); i++) {
        const contour = own(contours.get(i));
        const share = cv.contourArea(contour) / (picture.width * picture.height);
        if (share < 0.001 || share > 0.6) continue;
        const hull = own(new cv.Mat());
        cv.convexHull(contour, hull, false, true);
        const corners = own(new cv.Mat());
        cv.approxPolyDP(hull, corners, 0.03 * cv.arcLength(hull, true), true);
        if (corners.rows !== 4) continue;
        const candidate = judge(picture, clockwise(corners.data32S), cv.contourArea(contour), aspect);
        if (candidate) found.push(candidate);
      }
    }
    // The same thing is found at many brightnesses: its best find stands for all.
    const best = found
      .sort((a, b) => b.score - a.score)
      .filter((one, i) => !found.slice(0, i).some((other) => same(one, other)));
    return best.slice(0, KEPT);
  });
}

/** Whether two finds are one thing: their corners lie within a tenth of its size. */
function same(a: Candidate, b: Candidate): boolean {
  const near = 0.1 * Math.sqrt(Math.min(a.area, b.area));
  return a.corners.every((p) => b.corners.some((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) < near));
}

/** Corners clockwise as seen, from the one nearest to the photo's top left. */
function clockwise(xy: ArrayLike<number>): Corners {
  const points = Array.from({ length: 4 }, (_, i): Point<'photo'> => [xy[2 * i] as number, xy[2 * i + 1] as number]);
  const twice = points.reduce((sum, p, i) => {
    const q = points[(i + 1) % 4] as Point<'photo'>;
    return sum + p[0] * q[1] - q[0] * p[1];
  }, 0);
  if (twice < 0) points.reverse();
  const first = points.reduce(
    (best, p, i) => (p[0] + p[1] < (points[best]?.[0] ?? 0) + (points[best]?.[1] ?? 0) ? i : best),
    0,
  );
  return [0, 1, 2, 3].map((k) => points[(first + k) % 4]) as unknown as Corners;
}

/** How well four corners bound a sheet: filled, in proportion, and much whiter than what lies around them. */
function judge(picture: Raster, corners: Corners, filled: number, aspect: number): Candidate | null {
  const side = (i: number) => {
    const [p, q] = [corners[i] as Point<'photo'>, corners[(i + 1) % 4] as Point<'photo'>];
    return Math.hypot(p[0] - q[0], p[1] - q[1]);
  };
  const [a, b, c, d] = [side(0), side(1), side(2), side(3)];
  const area = corners.reduce((sum, p, i) => {
    const q = corners[(i + 1) % 4] as Point<'photo'>;
    return sum + (p[0] * q[1] - q[0] * p[1]) / 2;
  }, 0);
  const fill = filled / area;
  const uneven = Math.max(a / c, c / a, b / d, d / b);
  const proportion = Math.max((a + c) / (b + d), (b + d) / (a + c)) / aspect;
  if (fill < 0.9 || fill > 1.1 || uneven > 1.7 || proportion < 0.78 || proportion > 1.35) return null;
  const map = squareTo(corners);
  const grey = (spot: Local): number => {
    const [u, v] = map(spot).map(Math.round) as [number, number];
    const inside = u >= 0 && v >= 0 && u < picture.width && v < picture.height;
    return inside ? (picture.data[v * picture.width + u] as number) : 0;
  };
  const steps = [-0.4, -0.3, -0.2, -0.1, 0, 0.1, 0.2, 0.3, 0.4];
  // A printed card is white too; a blank sheet is white nearly everywhere, so its fifth darkest spot of 81 counts.
  const within = steps.flatMap((x) => steps.map((y) => grey([x, y]))).sort((p, q) => p - q)[4] as number;
  const ring = steps.flatMap((t): Local[] => [
    [t, -0.62],
    [t, 0.62],
    [-0.62, t],
    [0.62, t],
  ]);
  const around = ring.reduce((sum, spot) => sum + grey(spot) / ring.length, 0);
  const score = (within - around) * (1 - Math.abs(Math.log(proportion))) * (1 - Math.abs(1 - fill));
  return score > 30 ? { corners, score, area } : null;
}
