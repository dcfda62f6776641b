import type { Frame, Point, Region } from './frame';

declare const from: unique symbol;
declare const to: unique symbol;

/**
 * An affine map between two frames: x' = a x + c y + e, y' = b x + d y + f (the order of SVG and canvas).
 * Only a map of the right frames accepts a point, and only maps that meet can be composed.
 */
export interface Affine<A extends Frame, B extends Frame> {
  readonly m: readonly [a: number, b: number, c: number, d: number, e: number, f: number];
  readonly [from]?: A;
  readonly [to]?: B;
}

/** The map with the given six coefficients. */
export function affine<A extends Frame, B extends Frame>(
  a: number,
  b: number,
  c: number,
  d: number,
  e: number,
  f: number,
): Affine<A, B> {
  return { m: [a, b, c, d, e, f] };
}

/**
 * Turn by `degrees` (from +x to +y) about the origin, then shift by (dx, dy). With `mirror`, y is negated first.
 * Lengths are kept: this is how a blank moves from a slab face to a top.
 */
export function rigid<A extends Frame, B extends Frame>(
  degrees: number,
  dx: number,
  dy: number,
  mirror = false,
): Affine<A, B> {
  const t = (degrees * Math.PI) / 180;
  const cos = Math.cos(t);
  const sin = Math.sin(t);
  const s = mirror ? -1 : 1;
  return { m: [cos, sin, -sin * s, cos * s, dx, dy] };
}

/** Where the map takes a point. */
export function apply<A extends Frame, B extends Frame>(map: Affine<A, B>, p: Point<A>): Point<B> {
  const [a, b, c, d, e, f] = map.m;
  return [a * p[0] + c * p[1] + e, b * p[0] + d * p[1] + f];
}

/** Where the map takes each point of a ring or line. */
export function applyAll<A extends Frame, B extends Frame>(map: Affine<A, B>, ps: readonly Point<A>[]): Point<B>[] {
  return ps.map((p) => apply(map, p));
}

/** Where the map takes regions, holes and all. */
export function applyToRegions<A extends Frame, B extends Frame>(
  map: Affine<A, B>,
  regions: readonly Region<A>[],
): Region<B>[] {
  return regions.map(({ outer, holes }) => ({
    outer: applyAll(map, outer),
    holes: holes.map((h) => applyAll(map, h)),
  }));
}

/** `second` after `first`. */
export function compose<A extends Frame, B extends Frame, C extends Frame>(
  second: Affine<B, C>,
  first: Affine<A, B>,
): Affine<A, C> {
  const [a1, b1, c1, d1, e1, f1] = first.m;
  const [a2, b2, c2, d2, e2, f2] = second.m;
  return {
    m: [
      a2 * a1 + c2 * b1,
      b2 * a1 + d2 * b1,
      a2 * c1 + c2 * d1,
      b2 * c1 + d2 * d1,
      a2 * e1 + c2 * f1 + e2,
      b2 * e1 + d2 * f1 + f2,
    ],
  };
}

/** The way back. @throws RangeError when the map flattens the plane and has no inverse. */
export function invert<A extends Frame, B extends Frame>(map: Affine<A, B>): Affine<B, A> {
  const [a, b, c, d, e, f] = map.m;
  const det = a * d - b * c;
  if (Math.abs(det) < 1e-12) throw new RangeError('This map flattens the plane and cannot be inverted.');
  return {
    m: [d / det, -b / det, -c / det, a / det, (c * f - d * e) / det, (b * e - a * f) / det],
  };
}
