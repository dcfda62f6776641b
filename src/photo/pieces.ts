import type { Mat } from 'opencv.js';
import { type Point, type Polygon, simplify } from '../geometry';
import type { Grid } from '../raster';
import { InputProblem } from '../units';
import type { Cv, Own } from './cv';

/** The pieces of wood in a picture: the one that is meant, tidied, and others that might have been. */

/** Things narrower than twice this that stick out of the wood (bearers, a shoe) are dropped, mm. */
const OPENING = 90;
/** Bites narrower than twice this (a foot or a card over the edge) are filled, mm. */
const CLOSING = 45;
/** A piece of wood this large against the one sought is another slab, and no offcut or bearer. */
const LIKE_SIZE = 0.33;
/** And no larger than this, and as long as a slab is against its width, and as full as a slab is of its box: a patch of floor is none of it. */
const MOST_SIZE = 2.5;
const LONG = 1.8;
const FULL = 0.7;
/** Marks or strokes favour a piece when no other has more than this share of what it has of them. */
const FAVOURED = 0.3;
/** Other pieces are worn by this radius, mm, before they are counted, so that bearers do not join them. */
const WORN = 45;

/** Where the problem of several pieces points to: a stroke on the one that is meant answers it. */
export const WHICH_PIECE = '/strokes';

/** A piece of wood on a grid, and its rim in mm. */
export interface Piece {
  readonly data: Uint8Array;
  readonly ring: Polygon<'face'>;
}

/** Share of the main piece's pixels whose colours, the commonest first, are taken for its wood's. */
const COMMON = 0.95;

/** The main piece first, then all others that could be a slab too: of its colours, of like size, a slab in shape. */
export function allPieces(cv: Cv, own: Own, grid: Grid, image: Mat, main: Mat, seen: Uint8Array): Piece[] {
  const { mmPerPx } = grid;
  const area = cv.countNonZero(main);
  const alike = own(new cv.Mat(grid.height, grid.width, cv.CV_8UC1));
  alike.data.set(ofItsColours(image.data, main.data).map((v, i) => (v && seen[i] ? 255 : 0)));
  cv.medianBlur(alike, alike, 5);
  const rest = own(new cv.Mat());
  cv.bitwise_and(alike, inverse(cv, own, grownBy(cv, own, main, WORN / mmPerPx)), rest);
  const contours = own(new cv.MatVector());
  const worn = opened(cv, own, rest, WORN / mmPerPx);
  cv.findContours(worn, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const others = Array.from({ length: contours.size() }, (_, i): Piece[] => {
    const contour = own(contours.get(i));
    const size = cv.contourArea(contour);
    if (size < LIKE_SIZE * area || size > MOST_SIZE * area) return [];
    const box = cv.minAreaRect(contour).size;
    const [long, short] = [Math.max(box.width, box.height), Math.min(box.width, box.height)];
    if (long < LONG * short || size < FULL * long * short) return [];
    const mask = own(new cv.Mat(grid.height, grid.width, cv.CV_8UC1, new cv.Scalar(0)));
    cv.drawContours(mask, contours, i, new cv.Scalar(255), cv.FILLED);
    return [pieceOf(mask, contour, grid)];
  }).flat();
  const rims = own(new cv.MatVector());
  cv.findContours(main, rims, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  return [pieceOf(main, own(rims.get(0)), grid), ...others];
}

/** 1 for each pixel, of three bytes, that has one of the colours common within a mask. */
function ofItsColours(rgb: Uint8Array, mask: Uint8Array): Uint8Array {
  const cells = Uint16Array.from(mask, (_, i) => {
    const [r, g, b] = [rgb[3 * i], rgb[3 * i + 1], rgb[3 * i + 2]] as [number, number, number];
    return ((r >> 4) << 8) | ((g >> 4) << 4) | (b >> 4);
  });
  const counts = new Uint32Array(4096);
  let left = 0;
  cells.forEach((cell, i) => {
    if (!mask[i]) return;
    counts[cell] = (counts[cell] as number) + 1;
    left += COMMON;
  });
  const common = new Uint8Array(4096);
  const order = Array.from(counts.keys()).sort((p, q) => (counts[q] as number) - (counts[p] as number));
  for (const cell of order) {
    if (left <= 0) break;
    common[cell] = 1;
    left -= counts[cell] as number;
  }
  return Uint8Array.from(cells, (cell) => common[cell] as number);
}

export function pieceOf(mask: Mat, contour: Mat, { mmPerPx, x0, y0 }: Grid): Piece {
  const px = contour.data32S;
  const ring = Array.from({ length: px.length / 2 }, (_, i): Point<'face'> => {
    const [c, r] = [px[2 * i] as number, px[2 * i + 1] as number];
    return [x0 + (c + 0.5) * mmPerPx, y0 + (r + 0.5) * mmPerPx];
  });
  return { data: Uint8Array.from(mask.data, (v) => (v ? 1 : 0)), ring: simplify(ring, mmPerPx) };
}

/**
 * The piece that strokes, or else marks, lie on.
 * @throws InputProblem when they lie on more than one alike
 */
export function theOneMeant(
  pieces: readonly Piece[],
  seeds: Uint8Array,
  strokes: Uint8Array,
): { piece: Piece; others: readonly Piece[] } {
  const pointers = strokes.includes(1) ? strokes : seeds;
  const shares = pieces.map(({ data }) => data.reduce((sum, v, i) => sum + (v && pointers[i] ? 1 : 0), 0));
  const most = Math.max(...shares);
  const best = Math.max(0, shares.indexOf(most));
  if (shares.some((share, i) => i !== best && share > FAVOURED * most)) {
    throw new InputProblem(
      `This photo shows ${pieces.length} pieces of wood of like size, and the marks do not tell which one is meant.`,
      WHICH_PIECE,
      'Draw a stroke "wood" along the slab that you mean and trace again, or take a photo of it alone.',
    );
  }
  return { piece: pieces[best] as Piece, others: pieces.filter((_, i) => i !== best) };
}

/** What holds more than this share of the rim of the picture is the ground, not a slab. */
const GROUND = 0.8;

/** Whether a piece reaches all around the picture, as only what the wood lies on does. `seen`: 1 where the picture shows anything; `most` of its rim. */
export function isGround({ data }: Piece, seen: Uint8Array, width: number, most = GROUND): boolean {
  let [rim, held] = [0, 0];
  for (let i = 0; i < seen.length; i++) {
    const column = i % width;
    const within = column > 0 && column < width - 1 && seen[i - 1] && seen[i + 1] && seen[i - width] && seen[i + width];
    if (!seen[i] || within) continue;
    rim++;
    if (data[i]) held++;
  }
  return held > most * rim;
}

export const markedGround = (): InputProblem =>
  new InputProblem(
    'What was marked as wood reaches all around the photo: it looks like what the slab lies on.',
    '',
    'Mark the wood of the slab itself.',
  );

/** What lies across a slab from edge to edge (a rod, a batten, a strap) is no wider than twice this, mm. */
const ACROSS = 30;
/** Wood beyond it goes on in line: with it, the slab is no more than this much wider. */
const IN_LINE = 1.15;
/** Less beyond it than this share of the slab is not worth the risk. */
const WORTH_JOINING = 0.03;

/** The main piece without holes, bearers and bites. */
export function tidied(cv: Cv, own: Own, wood: Mat, guess: Uint8Array, mmPerPx: number): Mat {
  const filled = goneOn(cv, own, wood, mainPiece(cv, own, wood, guess), guess, mmPerPx);
  const deepest = deepestOf(cv, own, filled, mmPerPx);
  const body = opened(cv, own, filled, Math.min(OPENING, 0.75 * deepest) / mmPerPx);
  return mainPiece(cv, own, closed(cv, own, body, Math.min(CLOSING, 0.5 * deepest) / mmPerPx), guess);
}

/** The main piece with what goes on in line with it beyond something that lies across; as it was where nothing does. */
function goneOn(cv: Cv, own: Own, wood: Mat, main: Mat, guess: Uint8Array, mmPerPx: number): Mat {
  const bridged = mainPiece(cv, own, closed(cv, own, wood, ACROSS / mmPerPx), guess);
  const whole = opened(cv, own, bridged, Math.min(OPENING, 0.75 * deepestOf(cv, own, main, mmPerPx)) / mmPerPx);
  const [before, after] = [boxSides(cv, own, main), boxSides(cv, own, whole)];
  if (!before || !after || cv.countNonZero(whole) < (1 + WORTH_JOINING) * cv.countNonZero(main)) return main;
  return after.short <= IN_LINE * before.short ? mainPiece(cv, own, whole, guess) : main;
}

/** Sides (px) of the smallest box around a mask; null where it is empty. */
function boxSides(cv: Cv, own: Own, mask: Mat): { long: number; short: number } | null {
  const contours = own(new cv.MatVector());
  cv.findContours(mask, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const sizes = Array.from({ length: contours.size() }, (_, i) => cv.minAreaRect(own(contours.get(i))).size);
  const largest = sizes.sort((p, q) => q.width * q.height - p.width * p.height)[0];
  if (!largest) return null;
  return { long: Math.max(largest.width, largest.height), short: Math.min(largest.width, largest.height) };
}

/** How far the innermost place of a mask lies from its rim, mm. */
function deepestOf(cv: Cv, own: Own, mask: Mat, mmPerPx: number): number {
  const depth = own(new cv.Mat());
  cv.distanceTransform(mask, depth, cv.DIST_L2, 5);
  return cv.minMaxLoc(depth, own(new cv.Mat())).maxVal * mmPerPx;
}

/** What is left of the wood where a disc of `radius` px fits into it: worn by the disc and grown again. */
export function opened(cv: Cv, own: Own, wood: Mat, radius: number): Mat {
  return grownBy(cv, own, inverse(cv, own, grownBy(cv, own, inverse(cv, own, wood), radius)), radius);
}

/** The wood with bites filled that a disc does not fit into. */
export function closed(cv: Cv, own: Own, wood: Mat, radius: number): Mat {
  return inverse(cv, own, opened(cv, own, inverse(cv, own, wood), radius));
}

function inverse(cv: Cv, own: Own, mask: Mat): Mat {
  const out = own(new cv.Mat());
  cv.bitwise_not(mask, out);
  return out;
}

/** All within `radius` px of a mask. */
function grownBy(cv: Cv, own: Own, mask: Mat, radius: number): Mat {
  const away = own(new cv.Mat());
  cv.distanceTransform(inverse(cv, own, mask), away, cv.DIST_L2, 5);
  const out = own(new cv.Mat());
  cv.threshold(away, away, radius, 255, cv.THRESH_BINARY_INV);
  away.convertTo(out, cv.CV_8U);
  return out;
}

/** The connected piece that shares most pixels with the guess, its holes filled. */
function mainPiece(cv: Cv, own: Own, wood: Mat, guess: Uint8Array): Mat {
  const contours = own(new cv.MatVector());
  cv.findContours(wood, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
  const pieces = own(new cv.Mat(wood.rows, wood.cols, cv.CV_32SC1, new cv.Scalar(0)));
  const shared = new Int32Array(contours.size() + 1);
  for (let i = 0; i < contours.size(); i++) cv.drawContours(pieces, contours, i, new cv.Scalar(i + 1), cv.FILLED);
  pieces.data32S.forEach((piece, k) => {
    if (guess[k]) shared[piece] = (shared[piece] as number) + 1;
  });
  shared[0] = 0;
  const best = shared.indexOf(Math.max(...shared));
  const out = own(new cv.Mat(wood.rows, wood.cols, cv.CV_8UC1));
  out.data.set(pieces.data32S.map((piece) => (best > 0 && piece === best ? 255 : 0)));
  return out;
}
