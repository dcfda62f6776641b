import { type Control, pause } from '../search';
import type { JointMeter, Side } from './joint-meter';
import type { Usable } from './usable';
import { polished } from './window-polish';

/** How a leaf lies in a panel: as photographed, turned over about the joint, or turned end for end. */
export type Flip = 'none' | 'over' | 'end';

/** A leaf in its place in a panel. */
export interface LaidLeaf {
  /** Its place among the leaf photos. */
  readonly leaf: number;
  readonly flip: Flip;
  readonly usable: Usable;
}

/** Corner of a window, mm off the leaf's origin along and across. */
export type Spot = readonly [u: number, v: number];

/** The windows of one panel and how badly their joints meet (1 a joint: as uncut wood). */
export interface Windows {
  readonly spots: readonly Spot[];
  readonly cost: number;
}

/** Figure drifts from one leaf to the next by some mm (median 3, nine in ten under 11, in the project's trials): windows may follow it. */
const DRIFT = 12;
const COARSE_DRIFT: readonly Spot[] = [-8, 0, 8].flatMap((du) => [-8, -4, 0, 4, 8].map((dv) => [du, dv] as const));
/** Places tried along and across the leaf before refining, each way. */
const PLACES = 24;
/** Best coarse layouts that are refined. */
const KEPT = 4;

/** Whether the edge of a leaf's window that faces a joint is the one at more y of its own picture. */
const edgeAtMore = (flip: Flip, first: boolean): boolean => (flip === 'none') === first;

/** The edge of a leaf's window that meets a joint; `first` for the leaf in front of it. */
export function jointSide(laid: LaidLeaf, [u, v]: Spot, along: number, across: number, first: boolean): Side {
  const [x0, y0] = laid.usable.origin;
  const more = edgeAtMore(laid.flip, first);
  const y = y0 + v + (more ? across : 0);
  const ends = [x0 + u, x0 + u + along] as const;
  return {
    leaf: laid.leaf,
    from: laid.flip === 'end' ? ends[1] : ends[0],
    to: laid.flip === 'end' ? ends[0] : ends[1],
    y,
    keepsMore: !more,
  };
}

/**
 * Windows of equal size, one in each leaf of a row, whose joints meet best: a coarse look at places over the whole leaf, each next window
 * following the one before within the drift, then the best few refined to 1 mm, and the best of them over all places near it at once. Null when no place is sound in all of them.
 */
export async function bestWindows(
  row: readonly LaidLeaf[],
  along: number,
  across: number,
  meter: JointMeter,
  control: Control,
): Promise<Windows | null> {
  const fits = (k: number, [u, v]: Spot) => (row[k] as LaidLeaf).usable.fits(u, v, along, across);
  const joint = (k: number, a: Spot, b: Spot) =>
    meter.cost(
      jointSide(row[k] as LaidLeaf, a, along, across, true),
      jointSide(row[k + 1] as LaidLeaf, b, along, across, false),
    );
  const total = (spots: readonly Spot[]) =>
    spots.slice(1).reduce((sum, spot, k) => sum + joint(k, spots[k] as Spot, spot), 0);

  const found: Windows[] = [];
  const us = places(Math.min(...row.map(({ usable }) => usable.length)) - along);
  const vs = places(Math.min(...row.map(({ usable }) => usable.width)) - across);
  for (const [i, u] of us.entries()) {
    await pause(control, i / us.length);
    for (const v of vs) {
      const spots = chain([u, v], row.length, fits, joint);
      if (spots) found.push({ spots, cost: total(spots) });
    }
  }
  if (found.length === 0) return null;
  found.sort((a, b) => a.cost - b.cost);
  const refined = found.slice(0, KEPT).map((start) => refine(start, fits, total));
  const best = refined.reduce((a, b) => (b.cost < a.cost ? b : a));
  const near = (a: Spot, b: Spot) => Math.max(Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1])) <= DRIFT;
  const spots = polished(best.spots, {
    fits,
    pair: (k, a, b) => (near(a, b) ? joint(k, a, b) : Infinity),
    own: () => 0,
  });
  const after = together(spots) ? refine({ spots, cost: total(spots) }, fits, total) : best;
  return after.cost < best.cost ? after : best;
}

/** At most PLACES + 1 whole millimetres from 0 to `range`, both ends among them. */
function places(range: number): number[] {
  const most = Math.floor(range);
  if (most < 0) return [];
  const steps = Math.min(PLACES, most);
  return steps === 0 ? [0] : Array.from({ length: steps + 1 }, (_, i) => Math.round((most * i) / steps));
}

/** Windows that start at a place and follow the drift, joint by joint; null when one finds no sound place. */
function chain(
  start: Spot,
  count: number,
  fits: (k: number, spot: Spot) => boolean,
  joint: (k: number, a: Spot, b: Spot) => number,
): Spot[] | null {
  if (!fits(0, start)) return null;
  const spots: Spot[] = [start];
  for (let k = 1; k < count; k++) {
    let best: Spot | null = null;
    let least = Infinity;
    for (const [du, dv] of COARSE_DRIFT) {
      const spot: Spot = [start[0] + du, start[1] + dv];
      if (!fits(k, spot)) continue;
      const cost = joint(k - 1, spots[k - 1] as Spot, spot);
      if (cost < least) [best, least] = [spot, cost];
    }
    if (!best) return null;
    spots.push(best);
  }
  return spots;
}

/** Moves one window, or all together, by ever smaller steps while that betters the joints. */
function refine(
  start: Windows,
  fits: (k: number, spot: Spot) => boolean,
  total: (spots: readonly Spot[]) => number,
): Windows {
  let { spots, cost } = start;
  const everyOne = spots.map((_, k) => k);
  const groups = [everyOne, ...everyOne.map((k) => [k])];
  for (const step of [8, 4, 2, 1]) {
    for (let better = true; better; ) {
      better = false;
      for (const group of groups) {
        for (const [du, dv] of [
          [step, 0],
          [-step, 0],
          [0, step],
          [0, -step],
        ] as const) {
          const next = spots.map(([u, v], k): Spot => (group.includes(k) ? [u + du, v + dv] : [u, v]));
          if (!group.every((k) => fits(k, next[k] as Spot)) || !together(next)) continue;
          const after = total(next);
          if (after < cost - 1e-9) {
            [spots, cost, better] = [next, after, true];
          }
        }
      }
    }
  }
  return { spots, cost };
}

/** Whether the windows lie within the drift of each other. */
function together(spots: readonly Spot[]): boolean {
  const spread = (axis: 0 | 1) => {
    const values = spots.map((spot) => spot[axis]);
    return Math.max(...values) - Math.min(...values);
  };
  return spread(0) <= DRIFT && spread(1) <= DRIFT;
}
