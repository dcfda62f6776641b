import { levelsAt } from './levels';
import { MOST_TILT } from './upright';

/**
 * The thickest board that misses no more than a share of one face, over all tilts. For a given tilt it is exact at once: the plane of
 * the face that may be missed stands at the level under which that share of it lies, the other plane at the farthest spot of the
 * other face. So only the tilt is searched, by branch and bound (Land and Doig 1960): over a box of tilts every height moves by no more
 * than its distance from the middle times half the box, which bounds what the box can give.
 */

/** A face of which a share may be missed, and the other, which must be clean. About one middle, mm; heights towards the missed face. */
export interface SkipProblem {
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Height of the face that may be missed. */
  readonly z: Float64Array;
  /** Shares of the area, adding up to 1. */
  readonly weights: Float64Array;
  /** The other face's spots. */
  readonly other: { readonly x: Float64Array; readonly y: Float64Array; readonly z: Float64Array };
}

export interface SkipBest {
  /** The best tilt found, the thickness square to its planes, mm, and the height of the missed face's plane at the middle. */
  readonly a: number;
  readonly b: number;
  readonly thickness: number;
  readonly level: number;
  /** No board that misses as little is thicker than this, mm. */
  readonly most: number;
}

/** The search ends when no share can gain more than this, mm. */
const GAP = 0.02;
/** Boxes looked at, at most: what is proven by then is told. */
const MOST_BOXES = 6000;

/** Tilts from a - da to a + da, and b - db to b + db. */
interface Tilts {
  readonly a: number;
  readonly b: number;
  /** Half sizes. */
  readonly da: number;
  readonly db: number;
}

/** The places that can matter at any tilt of a box: cells that may lie under the greatest share's level, spots that may be the farthest. */
interface Near {
  readonly cells: Uint32Array;
  readonly others: Uint32Array;
}

interface Box extends Tilts {
  /** Bound for each share. */
  readonly most: readonly number[];
  readonly near: Near;
}

/** The best board for each of the shares. @param start tilts worth trying first */
export function bestSkips(
  problem: SkipProblem,
  shares: readonly number[],
  start: readonly (readonly [a: number, b: number])[],
): SkipBest[] {
  const look = looker(problem, shares);
  const best = shares.map(() => ({ a: 0, b: 0, thickness: Number.NEGATIVE_INFINITY, level: 0 }));
  const note = (a: number, b: number, near: Near): void => {
    look.at(a, b, near).forEach(({ thickness, level }, i) => {
      if (thickness > (best[i]?.thickness as number)) best[i] = { a, b, thickness, level };
    });
  };
  for (const [a, b] of start) note(a, b, look.all);
  const open = new Queue();
  const whole = { a: 0, b: 0, da: MOST_TILT, db: MOST_TILT };
  open.add({ ...whole, ...look.bound(whole, look.all) }, 0);
  let boxes = 0;
  for (;;) {
    // What a box may gain most over what is known, over all shares.
    const gainOf = (bounds: readonly number[]): number =>
      bounds.reduce((gain, t, i) => Math.max(gain, t - (best[i]?.thickness as number)), 0);
    const box = open.take();
    if (!box) break;
    const gain = gainOf(box.most);
    if (gain <= GAP) continue;
    if (boxes >= MOST_BOXES) {
      open.add(box, gain);
      break;
    }
    for (const part of halves(box, look.reachX, look.reachY)) {
      boxes++;
      const { most: own, near } = look.bound(part, box.near);
      const most = own.map((t, i) => Math.min(t, box.most[i] as number));
      if (gainOf(most) <= GAP) continue;
      note(part.a, part.b, near);
      open.add({ ...part, most, near }, gainOf(most));
    }
  }
  const left = open.rest();
  return best.map((found, i) => ({
    ...found,
    most: left.reduce((most, box) => Math.max(most, box.most[i] as number), found.thickness + GAP),
  }));
}

/** Cuts a box across the side along which heights move most. */
function halves({ a, b, da, db }: Tilts, reachX: number, reachY: number): Tilts[] {
  if (da * reachX >= db * reachY)
    return [
      { a: a - da / 2, b, da: da / 2, db },
      { a: a + da / 2, b, da: da / 2, db },
    ];
  return [
    { a, b: b - db / 2, da, db: db / 2 },
    { a, b: b + db / 2, da, db: db / 2 },
  ];
}

/** Thickness at a tilt, and its bound over a box of tilts, for all shares at once. */
function looker({ x, y, z, weights, other }: SkipProblem, shares: readonly number[]) {
  const values = new Float64Array(x.length);
  const everyOne = (count: number): Uint32Array => Uint32Array.from({ length: count }, (_, i) => i);
  const reach = (us: Float64Array): number => us.reduce((most, u) => Math.max(most, Math.abs(u)), 1);
  /** The least that the other face's farthest spot stands up to over a box; `at` is that spot. */
  const farthest = ({ a, b, da, db }: Tilts, others: Uint32Array): { at: number; level: number } => {
    let [at, level] = [0, Number.NEGATIVE_INFINITY];
    for (const j of others) {
      const [ox, oy] = [other.x[j] as number, other.y[j] as number];
      const height = (other.z[j] as number) - a * ox - b * oy - Math.abs(ox) * da - Math.abs(oy) * db;
      if (height <= level) continue;
      level = height;
      at = j;
    }
    return { at, level };
  };
  /** The most that the levels can be over a box, heights taken from a spot. */
  const levels = ({ a, b, da, db }: Tilts, cells: Uint32Array, ox: number, oy: number, oz: number): number[] => {
    for (const i of cells) {
      const [px, py] = [(x[i] as number) - ox, (y[i] as number) - oy];
      values[i] = (z[i] as number) - oz - a * px - b * py + Math.abs(px) * da + Math.abs(py) * db;
    }
    return levelsAt(values, weights, shares, cells);
  };
  return {
    reachX: reach(x),
    reachY: reach(y),
    all: { cells: everyOne(x.length), others: everyOne(other.x.length) },
    at(a: number, b: number, { cells, others }: Near): { thickness: number; level: number }[] {
      const tilt = { a, b, da: 0, db: 0 };
      const { level: low } = farthest(tilt, others);
      const length = Math.hypot(a, b, 1);
      return levels(tilt, cells, 0, 0, 0).map((level) => ({ thickness: (level - low) / length, level }));
    },
    /** The lesser of two bounds: both faces moved each for itself, and both about the spot of the other face that binds in the middle. */
    bound(box: Tilts, { cells, others }: Near): Pick<Box, 'most' | 'near'> {
      const { a, b, da, db } = box;
      const { at: j } = farthest({ a, b, da: 0, db: 0 }, others);
      const together = levels(box, cells, other.x[j] as number, other.y[j] as number, other.z[j] as number);
      const { level } = farthest(box, others);
      const apart = levels(box, cells, 0, 0, 0);
      // Square to the planes a thickness is the less, the steeper they stand; what is missing is so too.
      const flattest = Math.hypot(Math.max(0, Math.abs(a) - da), Math.max(0, Math.abs(b) - db), 1);
      const steepest = Math.hypot(Math.abs(a) + da, Math.abs(b) + db, 1);
      const most = apart.map((up, i) => {
        const upright = Math.min(up - level, together[i] as number);
        return upright / (upright > 0 ? flattest : steepest);
      });
      // What lies over the greatest level, or under the farthest spot, all over the box, does so at every tilt in it.
      const under = apart.at(-1) as number;
      const near = {
        cells: cells.filter(
          (i) => (values[i] as number) - 2 * (Math.abs(x[i] as number) * da + Math.abs(y[i] as number) * db) <= under,
        ),
        others: others.filter((k) => {
          const [ox, oy] = [other.x[k] as number, other.y[k] as number];
          return (other.z[k] as number) - a * ox - b * oy + Math.abs(ox) * da + Math.abs(oy) * db >= level;
        }),
      };
      return { most, near };
    },
  };
}

/** Boxes, the one that may gain most first (a binary heap). What a box may gain only falls, so an old gain is looked at anew when it is taken. */
class Queue {
  readonly #heap: { box: Box; gain: number }[] = [];

  add(box: Box, gain: number): void {
    const heap = this.#heap;
    let k = heap.push({ box, gain }) - 1;
    while (k > 0) {
      const up = (k - 1) >> 1;
      if ((heap[up]?.gain as number) >= gain) break;
      [heap[k], heap[up]] = [heap[up] as (typeof heap)[number], heap[k] as (typeof heap)[number]];
      k = up;
    }
  }

  take(): Box | undefined {
    const heap = this.#heap;
    const first = heap[0];
    const last = heap.pop();
    if (!first || !last || heap.length === 0) return first?.box;
    heap[0] = last;
    for (let k = 0; ; ) {
      const [left, right] = [2 * k + 1, 2 * k + 2];
      let best = k;
      if (left < heap.length && (heap[left]?.gain as number) > (heap[best]?.gain as number)) best = left;
      if (right < heap.length && (heap[right]?.gain as number) > (heap[best]?.gain as number)) best = right;
      if (best === k) return first.box;
      [heap[k], heap[best]] = [heap[best] as (typeof heap)[number], heap[k] as (typeof heap)[number]];
      k = best;
    }
  }

  rest(): readonly Box[] {
    return this.#heap.map(({ box }) => box);
  }
}
