import type { Mat } from 'opencv.js';
import type { Bounds, Region } from '../geometry';
import { type FacePicture, type Grid, maskOf } from '../raster';
import { type Cv, type Own, scope } from './cv';
import { evenLight } from './even-light';
import { laidMask, seedMask, strokeMask } from './hints';
import { crop, gridOf, seenMask, shrink } from './pictures';
import { roughRing } from './rough';
import type { TraceOptions } from './trace-types';

/**
 * Where the wood roughly is: colour models of wood and surroundings that sharpen each other (GrabCut: Rother, Kolmogorov and Blake
 * 2004), twice: over the whole picture, and again near what the first pass found, where the surroundings are what borders the wood.
 */

/** A yes (1) or no (0) for every pixel of a grid. */
export interface Mask extends Grid {
  readonly data: Uint8Array;
}

/** Longer side at which colours are told apart; 1,000 px was no better in trials and six times slower. */
const SEGMENT_PX = 600;
/** Floor kept around the first pass's wood, mm. */
const SURROUNDINGS = 200;
/** Things narrower than twice this that stick out of the wood (bearers, a shoe) are dropped, mm. */
const OPENING = 90;
/** Bites narrower than twice this (a foot or a card over the edge) are filled, mm. */
const CLOSING = 45;
const ROUNDS = 4;

/** @returns null where nothing in the picture stands out as the wood that the hints point at */
export function segment(cv: Cv, picture: FacePicture, hints: TraceOptions): Mask | null {
  const whole = evenLight(shrink(cv, picture, coarse(picture)));
  const first = pass(cv, whole, hints, seedMask(gridOf(whole), hints));
  if (!first) return null;
  hints.rough?.(roughRing(cv, first));
  const near = crop(picture, grown(boxOf(first), SURROUNDINGS));
  const closer = evenLight(shrink(cv, near, coarse(near)));
  return pass(cv, closer, hints, regrid(first, gridOf(closer)));
}

/** The same from a first guess: the outline as it was traced or drawn before. */
export function segmentAgain(cv: Cv, picture: FacePicture, hints: TraceOptions, outline: Region<'face'>): Mask | null {
  const whole = evenLight(shrink(cv, picture, coarse(picture)));
  return pass(cv, whole, hints, maskOf(gridOf(whole), [outline]));
}

const coarse = ({ raster, mmPerPx }: FacePicture) => (Math.max(raster.width, raster.height) * mmPerPx) / SEGMENT_PX;

/** One run of GrabCut from a first guess; the piece that holds most of the guess, tidied. */
function pass(cv: Cv, picture: FacePicture, hints: TraceOptions, guess: Uint8Array): Mask | null {
  const grid = gridOf(picture);
  const { width, height } = grid;
  return scope(cv, (own) => {
    const labels = own(new cv.Mat(height, width, cv.CV_8UC1));
    labels.data.set(guess.map((v) => (v ? cv.GC_PR_FGD : cv.GC_PR_BGD)));
    put(labels, laidMask(grid, hints, 'beside'), cv.GC_BGD);
    put(labels, strokeMask(grid, hints, 'not wood'), cv.GC_BGD);
    put(labels, strokeMask(grid, hints, 'wood'), cv.GC_FGD);
    const isWood = (v: number) => v === cv.GC_FGD || v === cv.GC_PR_FGD;
    if (!enough(labels.data, isWood) || !enough(labels.data, (v) => !isWood(v))) return null;
    const [background, foreground] = [own(new cv.Mat()), own(new cv.Mat())];
    const rect = new cv.Rect(0, 0, width, height);
    // GrabCut begins by chance, from a state that outlives the call: the same photo shall give the same outline.
    cv.setRNGSeed(1);
    cv.grabCut(clean(cv, own, picture, hints), labels, rect, background, foreground, ROUNDS, cv.GC_INIT_WITH_MASK);
    const wood = own(new cv.Mat(height, width, cv.CV_8UC1));
    const seen = seenMask(picture);
    wood.data.set(labels.data.map((v, i) => (seen[i] && isWood(v) ? 255 : 0)));
    const tidy = tidied(cv, own, wood, guess, grid.mmPerPx);
    return enough(tidy.data, (v) => v > 0) ? { ...grid, data: Uint8Array.from(tidy.data, (v) => (v ? 1 : 0)) } : null;
  });
}

/** A colour model of five clusters wants more than a handful of pixels. */
function enough(data: Uint8Array, is: (v: number) => boolean): boolean {
  let count = 0;
  for (const v of data) if (is(v)) count++;
  return count > 200;
}

function put(labels: Mat, mask: Uint8Array, value: number): void {
  const { data } = labels;
  for (let i = 0; i < mask.length; i++) if (mask[i]) data[i] = value;
}

/** 8-bit RGB with cards and sheets painted over from their surroundings, and what the photo did not see from its own edge. */
function clean(cv: Cv, own: Own, picture: FacePicture, hints: TraceOptions): Mat {
  const { width, height, channels, data } = picture.raster;
  const rgb = own(new cv.Mat(height, width, cv.CV_8UC3));
  const seen = seenMask(picture);
  const pixels = rgb.data;
  for (let r = 0; r < height; r++) {
    const first = seen.indexOf(1, r * width);
    const end = (r + 1) * width;
    let last = first >= 0 && first < end ? first : -1;
    for (let i = r * width; i < end; i++) {
      if (seen[i]) last = i;
      for (let k = 0; k < 3; k++)
        pixels[i * 3 + k] = last < 0 ? 128 : (data[last * channels + (channels === 1 ? 0 : k)] as number);
    }
  }
  const laid = laidMask(gridOf(picture), hints, 'all', 1.5 * picture.mmPerPx);
  if (!laid.includes(1)) return rgb;
  const holes = own(new cv.Mat(height, width, cv.CV_8UC1));
  holes.data.set(laid);
  const out = own(new cv.Mat());
  cv.inpaint(rgb, holes, out, 3, cv.INPAINT_TELEA);
  return out;
}

/** The main piece without holes, bearers and bites. */
function tidied(cv: Cv, own: Own, wood: Mat, guess: Uint8Array, mmPerPx: number): Mat {
  const filled = mainPiece(cv, own, wood, guess);
  const depth = own(new cv.Mat());
  cv.distanceTransform(filled, depth, cv.DIST_L2, 5);
  const deepest = cv.minMaxLoc(depth, own(new cv.Mat())).maxVal * mmPerPx;
  const body = opened(cv, own, filled, Math.min(OPENING, 0.75 * deepest) / mmPerPx);
  return mainPiece(cv, own, closed(cv, own, body, Math.min(CLOSING, 0.5 * deepest) / mmPerPx), guess);
}

/** What is left of the wood where a disc of `radius` px fits into it: worn by the disc and grown again. */
function opened(cv: Cv, own: Own, wood: Mat, radius: number): Mat {
  return grownBy(cv, own, inverse(cv, own, grownBy(cv, own, inverse(cv, own, wood), radius)), radius);
}

/** The wood with bites filled that a disc does not fit into. */
function closed(cv: Cv, own: Own, wood: Mat, radius: number): Mat {
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

/** Bounds of a mask, mm. */
export function boxOf({ data, width, mmPerPx, x0, y0 }: Mask): Bounds {
  let [minC, minR, maxC, maxR] = [Infinity, Infinity, -Infinity, -Infinity];
  data.forEach((v, i) => {
    if (!v) return;
    const [c, r] = [i % width, Math.floor(i / width)];
    [minC, maxC, minR, maxR] = [Math.min(minC, c), Math.max(maxC, c), Math.min(minR, r), Math.max(maxR, r)];
  });
  return {
    minX: x0 + minC * mmPerPx,
    minY: y0 + minR * mmPerPx,
    maxX: x0 + (maxC + 1) * mmPerPx,
    maxY: y0 + (maxR + 1) * mmPerPx,
  };
}

export const grown = ({ minX, minY, maxX, maxY }: Bounds, by: number): Bounds => ({
  minX: minX - by,
  minY: minY - by,
  maxX: maxX + by,
  maxY: maxY + by,
});

/** A mask on another grid, by nearest pixels. */
function regrid(mask: Mask, to: Grid): Uint8Array {
  const out = new Uint8Array(to.width * to.height);
  for (let r = 0; r < to.height; r++) {
    const row = Math.floor((to.y0 + (r + 0.5) * to.mmPerPx - mask.y0) / mask.mmPerPx);
    if (row < 0 || row >= mask.height) continue;
    for (let c = 0; c < to.width; c++) {
      const column = Math.floor((to.x0 + (c + 0.5) * to.mmPerPx - mask.x0) / mask.mmPerPx);
      if (column >= 0 && column < mask.width) out[r * to.width + c] = mask.data[row * mask.width + column] as number;
    }
  }
  return out;
}
