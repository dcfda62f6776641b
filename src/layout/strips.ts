import {
  type Affine,
  apply,
  applyAll,
  bounds,
  intersection,
  invert,
  largestRing,
  type Point,
  type Polygon,
  rectangle,
  type Segment,
} from '../geometry';
import type { Shop, Strip, Top } from '../job';
import type { FaceStock } from './stock';

/**
 * From joint lines to pieces of wood. The top's frame: x along the front, from the right-hand end as one stands before it; y from the
 * front to the back. With a face's y down the picture, a face then becomes a top by turning alone, never by mirroring.
 */

/** One straight edge of a strip on its slab, `length` long, x of the top running from its first point to its second. */
export interface EdgeLine {
  readonly stock: FaceStock;
  readonly line: Segment<'face'>;
}

/** Farther than any slab reaches. */
const FAR = 1e5;

/** The map that lays an edge on y = `at` of the top, its first point on x = 0. */
export function layEdge(line: Segment<'face'>, at: number): Affine<'face', 'top'> {
  const [a, b] = line;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) throw new RangeError('An edge of no length gives no direction.');
  const [cos, sin] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return { m: [cos, -sin, sin, cos, -(cos * a[0] + sin * a[1]), at + sin * a[0] - cos * a[1]] };
}

/** The part of a slab inside limits of the top, wood only; the largest piece where it falls apart. Null where there is no wood. */
export function woodIn(stock: FaceStock, toTop: Affine<'face', 'top'>, limits: Polygon<'top'>): Polygon<'top'> | null {
  const wood = { outer: applyAll(toTop, stock.outline.outer), holes: [] };
  return largestRing(intersection<'top'>([wood], [{ outer: limits, holes: [] }]));
}

/** The same between two x and two y. */
export const cutOut = (
  stock: FaceStock,
  toTop: Affine<'face', 'top'>,
  { x, y }: { readonly x: readonly [number, number]; readonly y: readonly [number, number] },
): Polygon<'top'> | null => woodIn(stock, toTop, rectangle<'top'>(x[0], y[0], x[1], y[1]));

/**
 * Depth of the wood in front of the edge y = `at`, least and most over x in [0, length], from the first way out of the wood at each x.
 * Taken at every corner of the outline and every `step` mm, so the least and most are exact for a polygon.
 * Null where the edge itself leaves the wood.
 */
export function frontDepth(
  stock: FaceStock,
  toTop: Affine<'face', 'top'>,
  at: number,
  length: number,
  step = 10,
): readonly [least: number, most: number] | null {
  const ring = applyAll(toTop, stock.outline.outer);
  const inset = 1e-6 * length;
  const looked = [inset, length - inset];
  for (let x = step; x < length; x += step) looked.push(Math.min(length - inset, x));
  for (const [x, y] of ring) if (x > inset && x < length - inset && y < at) looked.push(x + 1e-7);
  const xs = Float64Array.from(looked).sort();
  const edges = edgesBefore(ring, xs, at);
  if (!edges) return null;
  let [least, most] = [Infinity, -Infinity];
  for (const y of edges) {
    least = Math.min(least, at - y);
    most = Math.max(most, at - y);
  }
  return [least, most];
}

/** Where the wood that y = `at` lies in ends in front of it, at each of the rising `xs`; null where it lies outside at one of them. */
function edgesBefore(ring: Polygon<'top'>, xs: Float64Array, at: number): Float64Array | null {
  const last = new Float64Array(xs.length).fill(-Infinity);
  const inside = new Uint8Array(xs.length);
  let [px, py] = ring.at(-1) ?? [0, 0];
  for (const [qx, qy] of ring) {
    const [from, to] = px < qx ? [px, qx] : [qx, px];
    for (let k = firstFrom(xs, from); k < xs.length && (xs[k] as number) < to; k++) {
      const y = py + (((xs[k] as number) - px) * (qy - py)) / (qx - px);
      if (y >= at) continue;
      inside[k] = 1 - (inside[k] as number);
      if (y > (last[k] as number)) last[k] = y;
    }
    [px, py] = [qx, qy];
  }
  return inside.every((odd) => odd === 1) ? last : null;
}

/** Index of the first of rising numbers that is not below `x`. */
function firstFrom(xs: Float64Array, x: number): number {
  let [low, high] = [0, xs.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((xs[middle] as number) < x) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** How an edge is moved in its plane. */
export interface EdgeMove {
  /** Square to itself, towards the back of the top, mm. */
  readonly by: number;
  /** About its middle, degrees from +x to +y of the face. */
  readonly turn: number;
  /** Along itself, mm, in the direction of the top's x. */
  readonly slide: number;
}

/** The edge moved as asked, as long as it was. */
export function movedEdge(line: Segment<'face'>, { by, turn, slide }: EdgeMove): Segment<'face'> {
  const toFace = invert(layEdge(line, 0));
  const length = Math.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]);
  const t = (turn * Math.PI) / 180;
  const half = length / 2;
  const end = (sign: 1 | -1) => [half + slide + sign * half * Math.cos(t), by + sign * half * Math.sin(t)] as const;
  return [apply(toFace, end(-1)), apply(toFace, end(1))];
}

/** What one strip is: where its edges lie in the top and which of them are joints. */
export interface StripSpec {
  readonly stock: FaceStock;
  readonly toTop: Affine<'face', 'top'>;
  /** y of the top at which the strip begins, or 'live' for the wood's own edge. */
  readonly front: number | 'live';
  /** y of the top at which the strip ends. */
  readonly back: number;
  readonly frontIsJoint: boolean;
  readonly backIsJoint: boolean;
}

/** The strip's finished piece and its blank with the shop's allowances. Null where the wood does not reach. */
export function makeStrip(
  spec: StripSpec,
  top: Pick<Top, 'length'>,
  shop: Pick<Shop, 'endAllowance' | 'jointAllowance'>,
): Strip | null {
  const { stock, toTop, front, back } = spec;
  const live = front === 'live';
  const finished = cutOut(stock, toTop, { x: [0, top.length], y: [live ? -FAR : front, back] });
  const rough = cutOut(stock, toTop, {
    x: [-shop.endAllowance, top.length + shop.endAllowance],
    y: [live ? -FAR : front - shop.jointAllowance, back + shop.jointAllowance],
  });
  if (!finished || !rough) return null;
  const toFace = invert(toTop);
  const edge = (y: number): Segment<'face'> => [
    apply(toFace, [0, y] as Point<'top'>),
    apply(toFace, [top.length, y] as Point<'top'>),
  ];
  return {
    flitch: stock.flitch.id,
    slab: stock.slab.id,
    face: stock.face,
    toTop: [...toTop.m],
    finished: applyAll(toFace, finished),
    rough: applyAll(toFace, rough),
    jointFront: spec.frontIsJoint && !live ? edge(front) : null,
    jointBack: spec.backIsJoint ? edge(back) : null,
  };
}

/** The affine map of a stored strip. */
export const stripMap = (strip: Strip): Affine<'face', 'top'> => ({ m: strip.toTop });

/** Where a strip lies in the top. */
export function stripInTop(strip: Strip): Polygon<'top'> {
  return applyAll(stripMap(strip), strip.finished);
}

/** Length and width of a piece along its strip's own axes. */
export function sizeAlong(
  toTop: Affine<'face', 'top'>,
  polygon: Polygon<'face'>,
): readonly [length: number, width: number] {
  const box = bounds(applyAll(toTop, polygon));
  return [box.maxX - box.minX, box.maxY - box.minY];
}
