import type { Point } from '../geometry';

/** Places about each window that are looked at all together, mm along the grain (looks are read every 5 mm) and across it. */
const ALONG = [-10, -5, 0, 5, 10];
const ACROSS = Array.from({ length: 13 }, (_, i) => i - 6);
/** A best that lies at the rim is looked about again, so many times at most. */
const ROUNDS = 4;

/** What a chain of windows is judged by. */
export interface Chain {
  readonly fits: (slot: number, at: Point<'face'>) => boolean;
  /** What the joints between a slot and the next come to; Infinity where the two may not stand so. */
  readonly pair: (slot: number, a: Point<'face'>, b: Point<'face'>) => number;
  readonly own: (slot: number, at: Point<'face'>) => number;
}

/**
 * The best places of a chain of windows about given ones: all places within a few millimetres of each, every pair of neighbours, by the shortest path. A
 * joint's cost is rough at a millimetre, so windows moved one at a time stop short of it.
 */
export function polished(start: readonly Point<'face'>[], chain: Chain): Point<'face'>[] {
  let at = [...start];
  for (let round = 0; round < ROUNDS; round++) {
    const next = bestAbout(at, chain);
    const rim = next.some(([u, v], k) => {
      const [u0, v0] = at[k] as Point<'face'>;
      return Math.abs(u - u0) >= 10 || Math.abs(v - v0) >= 6;
    });
    at = next;
    if (!rim) break;
  }
  return at;
}

function bestAbout(about: readonly Point<'face'>[], { fits, pair, own }: Chain): Point<'face'>[] {
  const places = about.map(([u, v], k) =>
    ALONG.flatMap((du) => ACROSS.map((dv): Point<'face'> => [u + du, v + dv])).filter((p) => fits(k, p)),
  );
  let costs = (places[0] as Point<'face'>[]).map((p) => own(0, p));
  const from: number[][] = [];
  for (let k = 0; k + 1 < places.length; k++) {
    const here = places[k] as Point<'face'>[];
    const came: number[] = [];
    costs = (places[k + 1] as Point<'face'>[]).map((q, t) => {
      let least = Infinity;
      for (const [i, p] of here.entries()) {
        const sum = (costs[i] as number) + pair(k, p, q);
        if (sum < least) [least, came[t]] = [sum, i];
      }
      return least + own(k + 1, q);
    });
    from.push(came);
  }
  let end = 0;
  for (const [i, cost] of costs.entries()) if (cost < (costs[end] as number)) end = i;
  const path = [end];
  for (let k = places.length - 2; k >= 0; k--) path.unshift(from[k]?.[path[0] as number] ?? 0);
  return path.map((s, k) => (places[k] as Point<'face'>[])[s] as Point<'face'>);
}
