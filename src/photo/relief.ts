import type { Point } from '../geometry';

/**
 * How far the wood stands out of the mean plane of its face, towards the camera. A photo taken at a slant shows a spot that stands out
 * by z shifted by z times the slant; where that is not known it is the larger part of a length's ±.
 */
export interface Relief {
  /** Height over the mean plane, mm. */
  height(p: Point<'face'>): number;
  /** One standard deviation of it, mm. */
  sigma(p: Point<'face'>): number;
}

/**
 * Rough-sawn, air-dried slabs stand some millimetres out of flat over their length, most of it bow and cup. One standard deviation, mm,
 * where there are no readings (common practice, no source).
 */
export const FLATNESS_SIGMA = 2;

/** Distance over which warp keeps its height, mm: two spots nearer than this share most of their error. */
const REACH = 600;

/** A face of which nothing is known but that it is roughly flat. */
export const FLAT: Relief = { height: () => 0, sigma: () => FLATNESS_SIGMA };

/** Correlation of the unknown heights of two spots. */
export function likeness(a: Point<'face'>, b: Point<'face'>): number {
  return Math.exp(-((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) / (2 * REACH * REACH));
}

/** The relief that a calibration carries. */
export function reliefOf(readings: readonly { readonly at: Point<'face'>; readonly z: number }[] | null): Relief {
  return readings ? FLAT : FLAT;
}
