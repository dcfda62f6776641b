import type { Mat } from 'opencv.js';
import { type Point, type Polygon, ringArea, simplify } from '../geometry';
import type { Crack } from './cracks';
import { type Cv, type Own, scope } from './cv';
import { type Darkness, missing, type Threshold, threshold } from './dark';
import type { ProposedDefect } from './trace-types';

type Blob = Exclude<ProposedDefect, { kind: 'crack' }>;

/**
 * Knots, voids and bark inclusions: patches darker than the wood on both sides of them across the slab and along it. A dark ring, a dark
 * heart or a streak goes on along the slab, and so misses nothing there.
 */

/** Missing lightness from which a spot belongs to a patch: at least so, so many times the figure, at most so; and what the middle of a patch misses at least. */
const DARK: Threshold = { least: 0.25, figure: 3.5, most: 0.38 };
const MIDDLE: Threshold = { least: 0.3, figure: 4.5, most: 0.45 };
/** Longest along the slab, mm. */
const LONGEST = 400;
/** What is narrower is no patch, mm; smaller ones (pin knots) do not matter, mm2. */
const NARROWEST = 6;
const LEAST = 80;
/** Share of a patch in a crack from which it is the crack where it gapes; how far a crack's darkness reaches beyond its edges, mm. */
const GAPING = 0.7;
const FRINGE = 2;
/** What lies along the grain within so many degrees and is so many times as long as wide has grown with it: a void or an inclusion. A knot crosses it. */
const WITH_GRAIN = 20;
const LONG = 1.7;
/** A void lets no light back: it misses more than bark does. */
const VOID = 0.62;
/** Polygons are drawn so many times finer than the pixels, and simplified to within this, mm. */
const FINER = 3;
const SIMPLER = 0.5;

/** @param dark held against wood beyond the half width of the widest patch */
export function findBlobs(cv: Cv, dark: Darkness, cracks: readonly Crack[]): Blob[] {
  const { below, figure, width, height } = dark;
  const along = missing(cv, dark, LONGEST, 1);
  const depth = below.slice();
  for (let i = 0; i < depth.length; i++) depth[i] = Math.min(depth[i] as number, along[i] as number);
  return scope(cv, (own) => {
    const mask = own(new cv.Mat(height, width, cv.CV_8UC1));
    const { data } = mask;
    for (let i = 0; i < data.length; i++)
      data[i] = (depth[i] as number) > threshold(DARK, figure[i] as number) ? 255 : 0;
    const gaping = crackMask(cv, own, dark, cracks);
    const patches = thick(cv, own, mask);
    const labels = own(new cv.Mat());
    const count = cv.connectedComponents(patches, labels, 8, cv.CV_32S);
    const pixels = Array.from({ length: count }, (): number[] => []);
    const of = labels.data32S;
    for (let i = 0; i < of.length; i++) if (of[i]) pixels[of[i] as number]?.push(i);
    return pixels.flatMap((inside): Blob[] => {
      if (inside.length < LEAST) return [];
      const middle = median(inside.map((i) => depth[i] as number));
      const needed = threshold(MIDDLE, figure[inside[inside.length >> 1] as number] as number);
      if (middle < needed) return [];
      if (inside.filter((i) => gaping[i]).length > GAPING * inside.length) return [];
      const polygon = ringOf(cv, dark, inside);
      if (!polygon) return [];
      const shape = shapeOf(inside, width);
      const grown = shape.long > LONG * shape.short && Math.abs(shape.degrees) < WITH_GRAIN;
      const kind = !grown ? 'knot' : middle > VOID ? 'void' : 'bark inclusion';
      // An ellipse of the patch's own spread is filled by a compact one.
      const solid = Math.min(1, inside.length / ((Math.PI / 4) * shape.long * shape.short));
      const confidence = Math.min(0.95, Math.max(0.1, solid * Math.min(1, middle / (1.6 * needed))));
      return [{ kind, polygon, confidence }];
    });
  });
}

/** 1 where a crack gapes. */
function crackMask(cv: Cv, own: Own, { width, height, fromFace }: Darkness, cracks: readonly Crack[]): Uint8Array {
  const mask = own(cv.Mat.zeros(height, width, cv.CV_8UC1));
  for (const { line } of cracks) {
    line.slice(1).forEach(([x, y, wide], i) => {
      const [px, py, before] = line[i] as Crack['line'][number];
      const [from, to] = [fromFace([px, py]), fromFace([x, y])];
      const at = ([u, v]: readonly [number, number]) => new cv.Point(Math.floor(u), Math.floor(v));
      cv.line(mask, at(from), at(to), new cv.Scalar(1), Math.ceil(Math.max(wide, before) + 2 * FRINGE));
    });
  }
  return mask.data.slice();
}

/** What of a mask is thick, its tips included. */
function thick(cv: Cv, own: Own, mask: Mat): Mat {
  const disc = (size: number) => own(cv.getStructuringElement(cv.MORPH_ELLIPSE, new cv.Size(size, size)));
  const core = own(new cv.Mat());
  cv.morphologyEx(mask, core, cv.MORPH_OPEN, disc(NARROWEST + 1));
  cv.dilate(core, core, disc(NARROWEST + 1));
  cv.bitwise_and(core, mask, core);
  return core;
}

/** The outer edge of a patch on the face. */
function ringOf(cv: Cv, { width, toFace }: Darkness, inside: readonly number[]): Polygon<'face'> | null {
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

/** Axes of the ellipse of the same spread, px, and how its long one lies against the slab, degrees within a quarter turn. */
function shapeOf(inside: readonly number[], width: number): { long: number; short: number; degrees: number } {
  const [xs, ys] = [inside.map((i) => i % width), inside.map((i) => Math.floor(i / width))];
  const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + v, 0) / values.length;
  const [mx, my] = [mean(xs), mean(ys)];
  const xx = mean(xs.map((x) => (x - mx) ** 2));
  const yy = mean(ys.map((y) => (y - my) ** 2));
  const xy = mean(xs.map((x, k) => (x - mx) * ((ys[k] as number) - my)));
  const root = Math.hypot((xx - yy) / 2, xy);
  const [most, least] = [(xx + yy) / 2 + root, Math.max(1 / 12, (xx + yy) / 2 - root)];
  return {
    long: 4 * Math.sqrt(most),
    short: 4 * Math.sqrt(least),
    degrees: (Math.atan2(2 * xy, xx - yy) * 90) / Math.PI,
  };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0;
}
