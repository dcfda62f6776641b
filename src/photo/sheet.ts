import type { Point } from '../geometry';
import type { Raster } from '../raster';
import { type Cv, scope, toMat, toRaster } from './cv';
import { edgeSpot } from './edges';
import type { Local, SeenEdge } from './marks';
import { type Corners, cornersFromSides, onOneLine, squareOff, squareTo } from './quad';
import { type Candidate, colourlessnessOf, quadrilaterals, whitenessOf } from './sheet-search';

/** A sheet of paper as found: its edges on a drawing of side 1 by 1 whose origin is its middle. */
export interface SeenSheet {
  readonly corners: Corners;
  readonly edges: readonly SeenEdge[];
  /** Whether it is so white that the photo has no more light to show: its edges then seem to lie farther out. */
  readonly overexposed: boolean;
}

/** Longer side of the small picture in which the sheet is sought, px. */
const SEARCH_SIZE = 1000;
/** Spots sought along each side, and the share of them that must lie on one line. */
const SPOTS = 24;
const ON_LINE = 0.6;
/** A cut edge lies on its line to within this, px; a lens bows it by less. */
const STRAIGHT = 0.8;
/** A sheet is overexposed where more than this share of it has grey values at the end of the scale. */
const CLIPPED = { share: 0.5, grey: 253 };

/**
 * The colourless bright four-sided thing in a photo whose sides are in about the given proportion. Of several the largest: a shadow
 * across a sheet leaves bright parts of it with four sides too. And whether something like a sheet was there of which a side is not straight.
 * @param aspect longer over shorter side of the sheet
 */
export function lookForSheet(cv: Cv, photo: Raster, aspect: number): { sheet: SeenSheet | null; spoilt: boolean } {
  const whiteness = whitenessOf(photo);
  const factor = Math.max(1, Math.round(Math.max(photo.width, photo.height) / SEARCH_SIZE));
  const candidates = [whiteness, colourlessnessOf(photo)]
    .flatMap((map): Candidate[] => (map ? candidatesIn(cv, map, factor, aspect) : []))
    .sort((a, b) => b.area - a.area);
  const up = (p: Point<'photo'>): Point<'photo'> => [
    factor * p[0] + (factor - 1) / 2,
    factor * p[1] + (factor - 1) / 2,
  ];
  for (const {
    corners: [a, b, c, d],
  } of candidates) {
    const sheet = refine(whiteness, [up(a), up(b), up(c), up(d)], 2 * factor + 2);
    if (sheet) return { sheet, spoilt: false };
  }
  return { sheet: null, spoilt: candidates.length > 0 };
}

function candidatesIn(cv: Cv, map: Raster, factor: number, aspect: number): Candidate[] {
  return scope(cv, (own) => {
    const small = own(new cv.Mat());
    const size = new cv.Size(Math.floor(map.width / factor), Math.floor(map.height / factor));
    cv.resize(own(toMat(cv, map)), small, size, 0, 0, cv.INTER_AREA);
    return quadrilaterals(cv, toRaster(small), aspect);
  });
}

/** The sheet's edges at full size; null where they are not clean and straight on all four sides. */
function refine(gray: Raster, found: Corners, reach: number): SeenSheet | null {
  let corners = found;
  let edges: SeenEdge[] = [];
  for (const look of [reach, 5, 5]) {
    const map = squareTo(corners);
    const sides = SIDES.map(([from, to, inwards]) => {
      const along = (t: number): Local => [from[0] + (to[0] - from[0]) * t, from[1] + (to[1] - from[1]) * t];
      const spots = Array.from({ length: SPOTS }, (_, k) => 0.06 + (0.88 * (k + 0.5)) / SPOTS).flatMap(
        (t): SeenEdge[] => {
          const [p, q] = [along(t - 0.3 / SPOTS), along(t + 0.3 / SPOTS)];
          const [a, b] = [map(p), map(q)];
          const spot = edgeSpot(gray, a, b, squareOff([a, b], [p, q], inwards), look, 'half the light');
          return spot ? [{ at: along(t), towards: inwards, px: spot.px, outer: true }] : [];
        },
      );
      return onOneLine(spots, ({ px }) => px, STRAIGHT);
    });
    if (sides.some((side) => side.length < SPOTS * ON_LINE)) return null;
    corners = cornersFromSides(sides.map((side) => side.map((edge) => edge.px))) ?? corners;
    edges = sides.flat();
  }
  return { corners, edges, overexposed: clipped(gray, corners) };
}

function clipped(gray: Raster, corners: Corners): boolean {
  const map = squareTo(corners);
  const steps = Array.from({ length: 21 }, (_, k) => (k - 10) / 22);
  const ends = steps.flatMap((x) =>
    steps.map((y) => {
      const [u, v] = map([x, y]).map(Math.round) as [number, number];
      return (gray.data[v * gray.width + u] as number) >= CLIPPED.grey ? 1 : 0;
    }),
  );
  return ends.reduce<number>((sum, end) => sum + end, 0) > CLIPPED.share * ends.length;
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
