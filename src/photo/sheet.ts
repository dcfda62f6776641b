import type { Point } from '../geometry';
import type { Raster } from '../raster';
import { type Cv, scope, toMat, toRaster } from './cv';
import { edgeSpot } from './edges';
import type { Local, SeenEdge } from './marks';
import { type Corners, cornersFromSides, squareOff, squareTo } from './quad';

/** A sheet of paper as found: its edges on a drawing of side 1 by 1 whose origin is its middle. */
export interface SeenSheet {
  readonly corners: Corners;
  readonly edges: readonly SeenEdge[];
}

/** Longer side of the small picture in which the sheet is sought, px. */
const SEARCH_SIZE = 1000;
/** Spots sought along each side. */
const SPOTS = 24;

/**
 * The brightest colourless four-sided thing in a photo whose sides are in about the given proportion.
 * @param aspect longer over shorter side of the sheet
 */
export function findSheet(cv: Cv, photo: Raster, aspect: number): SeenSheet | null {
  const whiteness = whitenessOf(photo);
  const factor = Math.max(1, Math.round(Math.max(photo.width, photo.height) / SEARCH_SIZE));
  const candidates = scope(cv, (own) => {
    const small = own(new cv.Mat());
    const size = new cv.Size(Math.floor(photo.width / factor), Math.floor(photo.height / factor));
    cv.resize(own(toMat(cv, whiteness)), small, size, 0, 0, cv.INTER_AREA);
    return quadrilaterals(cv, toRaster(small), aspect);
  });
  const up = (p: Point<'photo'>): Point<'photo'> => [
    factor * p[0] + (factor - 1) / 2,
    factor * p[1] + (factor - 1) / 2,
  ];
  for (const {
    corners: [a, b, c, d],
  } of candidates) {
    const sheet = refine(whiteness, [up(a), up(b), up(c), up(d)], 2 * factor + 2);
    if (sheet) return sheet;
  }
  return null;
}

/** The least of red, green and blue: paper is bright in all three, wood dark in blue. */
function whitenessOf({ width, height, channels, data }: Raster): Raster {
  if (channels === 1) return { width, height, channels, data };
  const out = new Uint8ClampedArray(width * height);
  for (let i = 0, k = 0; i < out.length; i++, k += channels) {
    out[i] = Math.min(data[k] as number, data[k + 1] as number, data[k + 2] as number);
  }
  return { width, height, channels: 1, data: out };
}

interface Candidate {
  readonly corners: Corners;
  readonly score: number;
}

/** Four-sided bright blobs of every brightness, best first. */
function quadrilaterals(cv: Cv, picture: Raster, aspect: number): Candidate[] {
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
    return found.sort((a, b) => b.score - a.score).slice(0, 5);
  });
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
  return score > 30 ? { corners, score } : null;
}

/** The sheet's edges at full size; null where they are not clean on all four sides. */
function refine(gray: Raster, found: Corners, reach: number): SeenSheet | null {
  let corners = found;
  let edges: SeenEdge[] = [];
  for (const look of [reach, 5, 5]) {
    const map = squareTo(corners);
    const sides = SIDES.map(([from, to, inwards]) => {
      const along = (t: number): Local => [from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t];
      return Array.from({ length: SPOTS }, (_, k) => 0.06 + (0.88 * (k + 0.5)) / SPOTS).flatMap((t): SeenEdge[] => {
        const [p, q] = [along(t - 0.3 / SPOTS), along(t + 0.3 / SPOTS)];
        const [a, b] = [map(p), map(q)];
        const spot = edgeSpot(gray, a, b, squareOff([a, b], [p, q], inwards), look, 'half the light');
        return spot ? [{ at: along(t), towards: inwards, px: spot.px, outer: true }] : [];
      });
    });
    if (sides.some((side) => side.length < SPOTS / 2)) return null;
    corners = cornersFromSides(sides.map((side) => side.map((edge) => edge.px))) ?? corners;
    edges = sides.flat();
  }
  return { corners, edges };
}

/** Top, right, bottom, left: from corner to corner, and the way in. */
const SIDES: readonly (readonly [from: Local, to: Local, inwards: Local])[] = [
  [
    [-0.5, -0.5],
    [0.5, -0.5],
    [0, 1],
  ],
  [
    [0.5, -0.5],
    [0.5, 0.5],
    [-1, 0],
  ],
  [
    [0.5, 0.5],
    [-0.5, 0.5],
    [0, -1],
  ],
  [
    [-0.5, 0.5],
    [-0.5, -0.5],
    [1, 0],
  ],
];
