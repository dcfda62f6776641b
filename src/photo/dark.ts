import type { Mat } from 'opencv.js';
import { type Cv, type Own, scope } from './cv';
import type { Turned } from './turned';

type Size = Pick<Turned, 'width' | 'height'>;

/** How dark each spot of a face is against the wood around it: what cracks, knots and voids have in common. */
export interface Darkness extends Turned {
  /** Share of the lightness (CIELAB) of the wood on both sides across the slab that is missing, 0..1; 0 outside the wood. */
  readonly below: Float32Array;
  /** What of it is the wood's own figure there: its mean round about, defects left out. */
  readonly figure: Float32Array;
}

/** A share of lightness missing, as a multiple of the figure's between two bounds. */
export interface Threshold {
  readonly least: number;
  readonly figure: number;
  readonly most: number;
}

/** The more figure round about, the darker a defect must be; an open crack is dark in any wood. */
export const threshold = ({ least, figure, most }: Threshold, round: number): number =>
  Math.min(most, Math.max(least, figure * round));

/** A window is so many pixels at most, of a coarser picture where it must: what fills a wide valley is smooth. */
const FINE = 48;
/** Pixels to one where means are taken. */
const COARSE = 5;
/** Above any lightness: where there is no rim. */
const NONE = 1000;
/** Not looked at along the live sides, and at the ends, mm. */
const EDGE = 5;
const END = 1;
/** Times the mean lightness round about that wood has at most. */
const LIGHTEST = 1.25;
/** Smoothing along and across before anything is compared, px (sigma): noise goes, a crack stays. */
const ALONG = 2;
const ACROSS = 0.6;
/** Figure is what the wood shows within about this, mm (sigma) along and across; darker than FIGURE is no figure. */
const ROUND = [60, 25] as const;
const FIGURE = 0.3;

/** A face whose wood is held against itself: its rims and what is far lighter than it taken care of. */
export type Wood = Turned;

/** @param face as it was turned, what lies on it hidden */
export function woodOf(cv: Cv, face: Turned): Wood {
  const wood = within(cv, face);
  return { ...face, wood, lightness: toned(cv, face, wood) };
}

/**
 * Measures darkness over a face.
 * @param off how far off across the slab the wood lies that a spot is held against, mm: beyond the half width of what is sought
 */
export function darknessOf(cv: Cv, face: Wood, off: number): Darkness {
  const below = missing(cv, face, 1, 2 * off + 1);
  const plain = face.wood.slice();
  for (let i = 0; i < plain.length; i++) if ((below[i] as number) >= FIGURE) plain[i] = 0;
  const figure = scope(cv, (own) => around(cv, own, floats(cv, own, face, below), plain).data32F.slice());
  return { ...face, below, figure };
}

/** Wood so far from the live sides that bark and shadow are no part of it. */
function within(cv: Cv, face: Turned): Uint8Array {
  return scope(cv, (own) => {
    const [wood, seen] = [bytes(cv, own, face, face.wood), bytes(cv, own, face, face.seen)];
    // A card is no edge.
    const whole = own(new cv.Mat());
    cv.compare(seen, wood, whole, cv.CMP_EQ);
    const window = own(cv.getStructuringElement(cv.MORPH_RECT, new cv.Size(2 * END + 1, 2 * EDGE + 1)));
    cv.erode(whole, whole, window, new cv.Point(-1, -1), 1, cv.BORDER_CONSTANT, new cv.Scalar(0));
    cv.bitwise_and(whole, wood, whole);
    return whole.data.slice();
  });
}

/** Lightness with what is far lighter than the wood round about taken down to it: chalk and a tape are no wood to hold a spot against. */
function toned(cv: Cv, face: Turned, wood: Uint8Array): Float32Array {
  return scope(cv, (own) => {
    const lightness = floats(cv, own, face, face.lightness);
    const most = around(cv, own, lightness, wood);
    most.convertTo(most, -1, LIGHTEST);
    cv.min(lightness, most, lightness);
    return lightness.data32F.slice();
  });
}

/** Mean of what counts round about each spot, found on a coarser picture: it is smooth. */
function around(cv: Cv, own: Own, values: Mat, counts: Uint8Array): Mat {
  const { cols: width, rows: height } = values;
  const size = new cv.Size(Math.ceil(width / COARSE), Math.ceil(height / COARSE));
  const spread = (mat: Mat) => {
    cv.resize(mat, mat, size, 0, 0, cv.INTER_AREA);
    cv.GaussianBlur(mat, mat, new cv.Size(0, 0), ROUND[0] / COARSE, ROUND[1] / COARSE);
    return mat;
  };
  const mask = bytes(cv, own, { width, height }, counts);
  const total = own(new cv.Mat());
  mask.convertTo(total, cv.CV_32F);
  const mean = spread(only(cv, own, values, mask));
  cv.divide(mean, own(atLeast(cv, spread(total), 0.01)), mean);
  cv.resize(mean, mean, new cv.Size(width, height), 0, 0, cv.INTER_LINEAR);
  return mean;
}

/**
 * How much of the lightness around is missing in each spot: a closing fills every valley narrower than its window up to the lower of its two
 * rims, so that the foot of a step, such as heart beside sapwood or wood beside a shadow, misses nothing (the top hat of Meyer, 1979).
 * @param along window along the slab, px; `across` the same across it
 */
export function missing(cv: Cv, face: Turned, along: number, across: number): Float32Array {
  return scope(cv, (own) => {
    const { width, height } = face;
    const mask = bytes(cv, own, face, face.wood);
    const smooth = floats(cv, own, face, face.lightness);
    cv.GaussianBlur(smooth, smooth, new cv.Size(0, 0), ALONG, ACROSS);
    // What is no wood lifts no rim, and lowers none.
    const rim = only(cv, own, smooth, mask);
    const [byX, byY] = [Math.ceil(along / FINE), Math.ceil(across / FINE)];
    if (byX * byY > 1) {
      const size = new cv.Size(Math.ceil(width / byX), Math.ceil(height / byY));
      const weight = own(new cv.Mat());
      mask.convertTo(weight, cv.CV_32F);
      for (const mat of [rim, weight]) cv.resize(mat, mat, size, 0, 0, cv.INTER_AREA);
      cv.divide(rim, own(atLeast(cv, weight, 0.3)), rim);
    }
    const window = own(cv.getStructuringElement(cv.MORPH_RECT, new cv.Size(odd(along / byX), odd(across / byY))));
    cv.dilate(rim, rim, window);
    const { data32F } = rim;
    for (let i = 0; i < data32F.length; i++) if (!data32F[i]) data32F[i] = NONE;
    cv.erode(rim, rim, window);
    cv.resize(rim, rim, new cv.Size(width, height), 0, 0, cv.INTER_LINEAR);
    const [low, high] = [smooth.data32F, rim.data32F];
    const share = new Float32Array(low.length);
    for (let i = 0; i < share.length; i++) {
      const rise = high[i] as number;
      if (face.wood[i] && rise < NONE) share[i] = Math.max(0, 1 - (low[i] as number) / rise);
    }
    return share;
  });
}

function floats(cv: Cv, own: Own, { width, height }: Size, data: Float32Array): Mat {
  const mat = own(new cv.Mat(height, width, cv.CV_32FC1));
  mat.data32F.set(data);
  return mat;
}

function bytes(cv: Cv, own: Own, { width, height }: Size, data: Uint8Array): Mat {
  const mat = own(new cv.Mat(height, width, cv.CV_8UC1));
  mat.data.set(data);
  return mat;
}

/** The values where the mask is not 0, else 0. */
function only(cv: Cv, own: Own, values: Mat, mask: Mat): Mat {
  const kept = own(cv.Mat.zeros(values.rows, values.cols, cv.CV_32FC1));
  values.copyTo(kept, mask);
  return kept;
}

/** Values raised to at least so much, so that they divide. The caller owns it. */
function atLeast(cv: Cv, values: Mat, least: number): Mat {
  const raised = new cv.Mat(values.rows, values.cols, cv.CV_32FC1, new cv.Scalar(least));
  cv.max(values, raised, raised);
  return raised;
}

const odd = (n: number): number => 2 * Math.floor(n / 2) + 1;
