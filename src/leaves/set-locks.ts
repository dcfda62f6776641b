import { type Bounds, bounds } from '../geometry';
import type { SetFront, SetJoint } from '../job';
import type { Bench } from './set-bench';
import type { SizedFront } from './set-slots';
import type { SetRequest } from './set-types';

/** Fronts that keep their leaves, and the wood that they hold. */
export interface Locked {
  readonly fronts: ReadonlyMap<string, SetFront>;
  readonly joints: readonly SetJoint[];
  /** By leaf on the bench, in the leaf's frame, the saw's kerf before and behind. */
  readonly taken: ReadonlyMap<number, readonly Bounds[]>;
  /** Leaves that a locked front has, by its place in the sequence. */
  readonly fixed: readonly HeldLeaves[];
}

export interface HeldLeaves {
  readonly sequence: number;
  readonly leaves: readonly { readonly leaf: number; readonly from: number; readonly to: number }[];
}

/**
 * The fronts of the set of before that are locked, with all that carry their grain into them: they share leaves, so they move together. A locked front that
 * is no longer wanted, or wanted in another size, or whose leaves are gone, is let go.
 */
export function lockedSheets({ before, without }: SetRequest, fronts: readonly SizedFront[], bench: Bench): Locked {
  const out = new Set(without ?? []);
  const place = new Map(bench.leaves.map(({ name }, k) => [name, k]));
  const named = new Set(before?.locked ?? []);
  const runs = new Set(fronts.filter(({ id, door }) => named.has(id) && door.run !== null).map(({ door }) => door.run));
  const kept = new Map<string, SetFront>();
  for (const { id, door, sizes } of fronts) {
    if (!named.has(id) && !(door.run !== null && runs.has(door.run))) continue;
    const front = before?.fronts[id];
    if (!front) continue;
    const same =
      Math.abs(front.pressed.width - sizes.pressed.width) < 0.01 &&
      Math.abs(front.pressed.height - sizes.pressed.height) < 0.01;
    const there = [...front.cells, ...front.backer].every(({ board, leaf }) => {
      const name = `${board} ${leaf}`;
      return place.has(name) && !out.has(name);
    });
    if (same && there) kept.set(id, front);
  }
  const taken = new Map<number, Bounds[]>();
  const { crosscut } = bench.rules;
  for (const { cells, backer } of kept.values()) {
    for (const { board, leaf, window } of [...cells, ...backer]) {
      const k = place.get(`${board} ${leaf}`) as number;
      const { minX, minY, maxX, maxY } = bounds(window);
      const box = { minX: minX - crosscut, maxX: maxX + crosscut, minY, maxY };
      taken.set(k, [...(taken.get(k) ?? []), box]);
    }
  }
  const fixed = fronts.flatMap(({ id }, i): HeldLeaves[] => {
    const front = kept.get(id);
    if (!front) return [];
    const leaves = front.cells.map(({ board, leaf, window }) => {
      const k = place.get(`${board} ${leaf}`) as number;
      const { minX, maxX } = bounds(window);
      const from = bench.leaves[k]?.origin[0] ?? 0;
      return { leaf: k, from: minX - from, to: maxX - from };
    });
    return [{ sequence: i + 1, leaves }];
  });
  const joints = (before?.joints ?? []).filter(({ from, to }) => kept.has(from.front) && kept.has(to.front));
  return { fronts: kept, joints, taken, fixed };
}
