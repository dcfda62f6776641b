import { type Cloud, type Holding, highest, lowest, reach } from './cloud';

/**
 * The thickest parallel board measured square to its planes. Two parallel planes that keep all of the top's spots on one side and
 * all of the bottom's on the other stand farthest apart when they are square to the shortest way between the two convex
 * hulls: their distance is that way's length, and no other direction reaches it. The shortest way is the point nearest to the
 * origin among all differences top - bottom, found by Wolfe's method (Finding the nearest point in a polytope,
 * Mathematical Programming 11, 1976): it ends after finitely many steps, each with one look at every spot.
 */

type Vector = readonly [x: number, y: number, z: number];

export interface SquareBoard {
  /** Distance of the planes, mm. */
  readonly thickness: number;
  /** Unit normal of the planes, from the underside up. */
  readonly normal: Vector;
  /** At most three spots of each face hold the planes from lying farther apart. */
  readonly limits: readonly Holding[];
}

/** How much thicker a board could still be when the search ends, mm. */
const TOLERANCE = 1e-9;
const MOST_STEPS = 1000;
/** A share below this is none. */
const NO_SHARE = 1e-12;

const dot = (p: Vector, q: Vector): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];
const plus = (p: Vector, k: number, q: Vector): Vector => [p[0] + k * q[0], p[1] + k * q[1], p[2] + k * q[2]];

/**
 * The best board measured square to its planes, or nothing where the hulls meet and no board fits.
 * @param start a direction near the answer: the upright board's normal
 */
export function squareBoard(top: Cloud, bottom: Cloud, start: Vector): SquareBoard | undefined {
  const between = (i: number, j: number): Vector => [
    (top.x[i] as number) - (bottom.x[j] as number),
    (top.y[i] as number) - (bottom.y[j] as number),
    (top.z[i] as number) - (bottom.z[j] as number),
  ];
  const limit = (n: Vector): Corner => {
    const [i, j] = [lowest(top, ...n), highest(bottom, ...n)];
    return { top: i, bottom: j, way: between(i, j), share: 0 };
  };
  let corners: Corner[] = [{ ...limit(start), share: 1 }];
  let best: SquareBoard | undefined;
  for (let step = 0; step < MOST_STEPS; step++) {
    const way = corners.reduce<Vector>((sum, corner) => plus(sum, corner.share, corner.way), [0, 0, 0]);
    const length = Math.sqrt(dot(way, way));
    if (length < TOLERANCE) return undefined;
    const normal: Vector = [way[0] / length, way[1] / length, way[2] / length];
    const next = limit(normal);
    const thickness = reach(top, next.top, ...normal) - reach(bottom, next.bottom, ...normal);
    if (thickness > (best?.thickness ?? 0)) best = { thickness, normal, limits: holdings(corners) };
    const known = corners.some((corner) => corner.top === next.top && corner.bottom === next.bottom);
    if (known || length - thickness <= TOLERANCE) return best;
    corners = nearest([...corners, next]);
  }
  return best;
}

/** A spot of the top with one of the bottom, the way between them, and its share in the nearest point. */
interface Corner {
  readonly top: number;
  readonly bottom: number;
  readonly way: Vector;
  readonly share: number;
}

/**
 * The corners, with their shares, of which the point nearest to the origin is a mean. Walks from the shares given towards those
 * of the nearest point of the corners' plane, dropping a corner whenever its share runs out on the way.
 */
function nearest(given: readonly Corner[]): Corner[] {
  let corners = [...given];
  for (;;) {
    const wanted = sharesOfNearest(corners.map(({ way }) => way));
    if (wanted.every((share) => share > NO_SHARE))
      return corners.map((corner, k) => ({ ...corner, share: wanted[k] as number }));
    let go = 1;
    corners.forEach(({ share }, k) => {
      const want = wanted[k] as number;
      if (want <= NO_SHARE) go = Math.min(go, share / Math.max(share - want, Number.MIN_VALUE));
    });
    const walked = corners.map((corner, k) => ({
      ...corner,
      share: corner.share + go * ((wanted[k] as number) - corner.share),
    }));
    const kept = walked.filter(({ share }) => share > NO_SHARE);
    // Rounding may leave every share above the floor: the least one is the one that ran out.
    const least = Math.min(...walked.map(({ share }) => share));
    corners = kept.length < walked.length ? kept : walked.filter(({ share }) => share > least);
    const sum = corners.reduce((total, { share }) => total + share, 0);
    corners = corners.map((corner) => ({ ...corner, share: corner.share / sum }));
  }
}

/**
 * Shares (which may be negative) of the point nearest to the origin in the plane through the ways: least squares of
 * w0 + sum k (w - w0), the differences made square to each other (Gram and Schmidt).
 */
function sharesOfNearest(ways: readonly Vector[]): number[] {
  const first = ways[0] as Vector;
  const square: Vector[] = [];
  const mixes: number[][] = [];
  const shares = new Array<number>(ways.length).fill(0);
  let rest: Vector = first;
  for (let k = 1; k < ways.length; k++) {
    let difference = plus(ways[k] as Vector, -1, first);
    const before = dot(difference, difference);
    const mix = new Array<number>(ways.length).fill(0);
    mix[k] = 1;
    square.forEach((axis, m) => {
      const share = dot(difference, axis) / dot(axis, axis);
      difference = plus(difference, -share, axis);
      (mixes[m] as number[]).forEach((u, c) => {
        mix[c] = (mix[c] as number) - share * u;
      });
    });
    if (dot(difference, difference) <= 1e-22 * before) continue;
    const step = -dot(rest, difference) / dot(difference, difference);
    rest = plus(rest, step, difference);
    square.push(difference);
    mixes.push(mix);
    mix.forEach((u, c) => {
      shares[c] = (shares[c] as number) + step * u;
    });
  }
  shares[0] = 1 - shares.slice(1).reduce((sum, share) => sum + share, 0);
  return shares;
}

/** What the pairs say of each face's spots. */
function holdings(corners: readonly Corner[]): Holding[] {
  return (['top', 'bottom'] as const).flatMap((face) => {
    const shares = new Map<number, number>();
    for (const corner of corners) shares.set(corner[face], (shares.get(corner[face]) ?? 0) + corner.share);
    return [...shares].map(([spot, share]) => ({ face, spot, share }));
  });
}
