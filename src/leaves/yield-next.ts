import { um } from './micrometres';
import { leavesBy, type Saw, type Way } from './ways';

/** At what a board would give so many leaves more, each figure changed alone, mm; null where even nothing of it would not do. */
export interface NextLeaf {
  /** A blade that takes at most this. */
  readonly kerf: number | null;
  /** Leaves sawn at most this thick. */
  readonly leaf: number | null;
  /** Dressing that takes at most this between two cuts. */
  readonly dressing: number | null;
  /** A last piece of at most this. */
  readonly lastPiece: number | null;
  /** A board that is at least this thick. */
  readonly thickness: number;
}

/** Figures of which less is more leaves, with the least that each may be, micrometres. */
const SAVED = { kerf: 0, leaf: 1, dressing: 0, lastPiece: 0 } as const;

/**
 * The exact figures, to 0.001 mm, at which a board gives `more` leaves more than now. A figure counts one way only, so its threshold is found by
 * halving.
 */
export function nextLeaf(saw: Saw, way: Way, more = 1): NextLeaf {
  const wanted = leavesBy(saw, way) + more;
  const gives = (key: keyof Saw, micrometres: number): boolean =>
    leavesBy({ ...saw, [key]: micrometres / 1000 }, way) >= wanted;
  const most = (key: keyof typeof SAVED): number | null => {
    let [low, high] = [SAVED[key] as number, um(saw[key])];
    if (!gives(key, low)) return null;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (gives(key, middle)) low = middle;
      else high = middle;
    }
    return low / 1000;
  };
  return {
    kerf: most('kerf'),
    leaf: most('leaf'),
    dressing: most('dressing'),
    lastPiece: most('lastPiece'),
    thickness: leastThickness(saw, way, wanted),
  };
}

/** The least thickness of a flat board that gives so many leaves, mm, to 0.001. */
export function leastThickness(saw: Saw, way: Way, wanted: number): number {
  const gives = (micrometres: number): boolean => leavesBy({ ...saw, thickness: micrometres / 1000 }, way) >= wanted;
  let low = um(saw.faceAllowance) + (way.carrier ? um(saw.backAllowance) : 0);
  if (gives(low)) return low / 1000;
  let high = Math.max(2 * low, 1000);
  while (!gives(high)) [low, high] = [high, 2 * high];
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (gives(middle)) high = middle;
    else low = middle;
  }
  return high / 1000;
}
