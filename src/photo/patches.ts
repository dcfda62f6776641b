import { type Point, type Polygon, ringArea, simplify } from '../geometry';
import { type Cv, scope } from './cv';

/** Patches of a mask over a face: which pixels belong together, their edges and their shapes. */

/** A grid of pixels of which each one's place on the face is known; pixel (c, r) has its centre at (c + .5, r + .5). */
export interface Placed {
  readonly width: number;
  readonly height: number;
  readonly toFace: (x: number, y: number) => Point<'face'>;
}

/** Polygons are drawn so many times finer than the pixels, and simplified to within this, mm. */
const FINER = 3;
const SIMPLER = 0.5;

/** Indices of the pixels of each connected patch, corners touching included. */
export function piecesOf(
  cv: Cv,
  { width, height }: Pick<Placed, 'width' | 'height'>,
  mask: Uint8Array,
  least = 1,
): number[][] {
  return scope(cv, (own) => {
    const mat = own(new cv.Mat(height, width, cv.CV_8UC1));
    mat.data.set(mask);
    const labels = own(new cv.Mat());
    const count = cv.connectedComponents(mat, labels, 8, cv.CV_32S);
    const pieces = Array.from({ length: count }, (): number[] => []);
    const of = labels.data32S;
    for (let i = 0; i < of.length; i++) if (of[i]) pieces[of[i] as number]?.push(i);
    return pieces.filter((piece) => piece.length >= least);
  });
}

/** What of a mask (0 or 1) is as thick as a disc of so many pixels, its tips included; with `size` 0 before it, gaps are closed first. */
export function thick(
  cv: Cv,
  { width, height }: Pick<Placed, 'width' | 'height'>,
  mask: Uint8Array,
  { size, close = 0 }: { readonly size: number; readonly close?: number },
): Uint8Array {
  return scope(cv, (own) => {
    const disc = (across: number) => own(cv.getStructuringElement(cv.MORPH_ELLIPSE, new cv.Size(across, across)));
    const whole = own(new cv.Mat(height, width, cv.CV_8UC1));
    whole.data.set(mask);
    if (close > 0) cv.morphologyEx(whole, whole, cv.MORPH_CLOSE, disc(close));
    const core = own(new cv.Mat());
    cv.morphologyEx(whole, core, cv.MORPH_OPEN, disc(size));
    cv.dilate(core, core, disc(size));
    cv.bitwise_and(core, whole, core);
    return core.data.slice();
  });
}

/** The outer edge of a patch on the face, its holes filled; null where it is too small to have one. */
export function ringOf(cv: Cv, { width, toFace }: Placed, inside: readonly number[]): Polygon<'face'> | null {
  return scope(cv, (own) => {
    const [xs, ys] = [inside.map((i) => i % width), inside.map((i) => Math.floor(i / width))];
    const [left, top] = [lowest(xs) - 1, lowest(ys) - 1];
    const [w, h] = [2 - lowest(xs.map((x) => -x)) - left, 2 - lowest(ys.map((y) => -y)) - top];
    const mask = own(cv.Mat.zeros(h, w, cv.CV_8UC1));
    const { data } = mask;
    for (const [k, x] of xs.entries()) data[((ys[k] as number) - top) * w + x - left] = 255;
    // Finer and rounded: a contour runs through the centres of the outermost pixels, and would go out and back along what is one pixel wide.
    cv.resize(mask, mask, new cv.Size(w * FINER, h * FINER), 0, 0, cv.INTER_NEAREST);
    cv.medianBlur(mask, mask, FINER + 2);
    const contours = own(new cv.MatVector());
    cv.findContours(mask, contours, own(new cv.Mat()), cv.RETR_EXTERNAL, cv.CHAIN_APPROX_NONE);
    const rings = Array.from({ length: contours.size() }, (_, k) => {
      const points = own(contours.get(k)).data32S;
      return Array.from(
        { length: points.length / 2 },
        (_, p): Point<'face'> =>
          toFace(((points[2 * p] as number) + 0.5) / FINER + left, ((points[2 * p + 1] as number) + 0.5) / FINER + top),
      );
    });
    const largest = rings.sort((p, q) => ringArea(q) - ringArea(p))[0];
    const polygon = simplify(largest ?? [], SIMPLER);
    return polygon.length > 2 ? polygon : null;
  });
}

const lowest = (values: readonly number[]): number => values.reduce((low, v) => Math.min(low, v), Infinity);

export interface Shape {
  /** Axes of the ellipse of the same spread, px. */
  readonly long: number;
  readonly short: number;
  /** How the long one lies against the slab, degrees within a quarter turn. */
  readonly degrees: number;
}

export function shapeOf(inside: readonly number[], width: number): Shape {
  const [xs, ys] = [inside.map((i) => i % width), inside.map((i) => Math.floor(i / width))];
  const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
  const [mx, my] = [mean(xs), mean(ys)];
  const xx = mean(xs.map((x) => (x - mx) ** 2));
  const yy = mean(ys.map((y) => (y - my) ** 2));
  const xy = mean(xs.map((x, k) => (x - mx) * ((ys[k] as number) - my)));
  const root = Math.hypot((xx - yy) / 2, xy);
  const [most, least] = [(xx + yy) / 2 + root, Math.max(1 / 12, (xx + yy) / 2 - root)];
  const [long, short] = [4 * Math.sqrt(most), 4 * Math.sqrt(least)];
  return {
    long,
    short,
    degrees: (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI,
  };
}

/** How far to either side of its edge the rim of a patch is looked for, px. */
const REACH = 8;

/** Width over which the edge of a patch fades, px: how much of the fading (1 in a mask) lies along its edge, over its length. */
export function fadeOf(inside: readonly number[], fading: Uint8Array, width: number): number {
  const own = new Set(inside);
  const rim = new Set<number>();
  let edge = 0;
  for (const i of inside) {
    for (const by of [-1, 1, -width, width]) {
      if (own.has(i + by)) continue;
      edge++;
      for (let k = 1 - REACH; k <= REACH; k++) if (fading[i + k * by]) rim.add(i + k * by);
    }
  }
  return rim.size / Math.max(1, edge);
}
