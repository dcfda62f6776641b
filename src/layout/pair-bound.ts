import type { Top } from '../job';
import { deepest, longest } from './columns';
import { topsIn } from './runs';
import type { FaceStock } from './stock';
import type { Valuer } from './worth';

/**
 * What a pair of faces could give at most, found without looking at its wood: whether the strips are long and deep enough, and the worth of a place
 * there whose seam cannot be seen. No place of the pair is worth more.
 */

/** Strips are measured at whole steps of the angle and in columns: a strip may be deeper by this much, mm. */
const COARSE = 15;

/** Two faces of different slabs, in either order, and what they could be worth to a top. */
export interface PairBound {
  readonly faces: readonly [FaceStock, FaceStock];
  /** By the top's id; a top that the pair cannot give has none. */
  readonly most: ReadonlyMap<string, number>;
  /** How far the slabs lie apart in their log: neighbours look alike. Only the order of looking comes from it. */
  readonly apart: number;
}

const OTHER_LOG = 100;

function distance(a: FaceStock, b: FaceStock): number {
  return a.flitch === b.flitch ? Math.abs(a.slab.place - b.slab.place) : OTHER_LOG;
}

/** Every pair that could give one of the tops a seam. @param tops as they are searched for; @param angle that joints may have, degrees */
export function boundPairs(
  tops: readonly Top[],
  stock: readonly FaceStock[],
  angle: number,
  valuer: Valuer,
): PairBound[] {
  const depths = new Map(
    tops.map((top) => [
      top,
      stock.map((face) => {
        if (longest(face) < top.length * Math.cos((angle * Math.PI) / 180)) return { front: 0, back: 0 };
        const back = deepest(face, { length: top.length, front: 'straight', angle }, true);
        const live = { length: top.length, front: 'live', angle, swing: top.swing } as const;
        const front = top.front === 'live' ? deepest(face, live, true) : back;
        return { front, back };
      }),
    ]),
  );
  const gives = (top: Top, i: number, j: number): boolean => {
    const of = depths.get(top) as { front: number; back: number }[];
    const [front, back] = [of[i]?.front ?? 0, of[j]?.back ?? 0];
    const strips = Math.min(front, back) + COARSE >= top.leastStrip && front > 0 && back > 0;
    return strips && front + back + 2 * COARSE >= top.depth[0];
  };
  const pairs: PairBound[] = [];
  stock.forEach((a, i) => {
    stock.slice(i + 1).forEach((b, k) => {
      const j = i + 1 + k;
      if (a.flitch === b.flitch && a.slab === b.slab) return;
      const most = new Map(
        tops
          .filter((top) => top.seams > 0 && !top.bookMatched && (gives(top, i, j) || gives(top, j, i)))
          .map((top) => [top.id, topsIn(top).reduce((sum, one) => sum + valuer.most(one, [a, b]), 0)]),
      );
      if (most.size > 0) pairs.push({ faces: [a, b], most, apart: distance(a, b) });
    });
  });
  return pairs;
}
