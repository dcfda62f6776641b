import type { Bounds, Point } from '../geometry';
import type { WoodLeft } from './backer';
import type { ReadyLeaf } from './set-bench';
import type { LaidSheet } from './set-build';
import { type Sheet, type Slot, windowOf } from './set-slots';
import { statesOf } from './window-states';

/**
 * A sheet whose leaves match at random: out of sequence, every other leaf of those that are left, each window as near the middle of its leaf as may be.
 * Null where too few leaves have room.
 */
export function laidAtRandom(sheet: Sheet, left: WoodLeft): LaidSheet | null {
  const { leaves: ready } = left.bench;
  const mixed = [...left.usable.filter((_, i) => i % 2 === 0), ...left.usable.filter((_, i) => i % 2 === 1)];
  const leaves: number[] = [];
  const at: Point<'face'>[] = [];
  const before = new Map<number, readonly Bounds[]>();
  for (let k = 0; k < mixed.length && leaves.length < sheet.slots.length; ) {
    const leaf = mixed[k] as number;
    const slot = sheet.slots[leaves.length] as Slot;
    const place = nearestMiddle(ready[leaf] as ReadyLeaf, slot, left.taken(leaf));
    if (!place) {
      k++;
      continue;
    }
    if (!before.has(leaf)) before.set(leaf, left.taken(leaf));
    leaves.push(leaf);
    at.push(place);
    takeSlot(left, leaf, slot, place);
    // A leaf gives another length only once all have given one.
    mixed.push(...mixed.splice(k, 1));
    if (leaves.length >= mixed.length * 4) break;
  }
  if (leaves.length === sheet.slots.length) return { sheet, leaves, at, cost: 0 };
  for (const [leaf, boxes] of before) left.restore(leaf, boxes);
  return null;
}

/** Takes a slot's windows out of what is left. */
export function takeSlot(left: WoodLeft, leaf: number, slot: Slot, [u, v]: Point<'face'>): void {
  const { origin } = left.bench.leaves[leaf] as ReadyLeaf;
  for (const piece of slot.pieces) left.take(leaf, windowOf(piece, [origin[0] + u, origin[1] + v]));
}

function nearestMiddle(leaf: ReadyLeaf, slot: Slot, taken: readonly Bounds[]): Point<'face'> | null {
  const states = statesOf(leaf, slot, { from: 0, to: leaf.length }, taken);
  const middle = states.reduce((sum, [, v]) => sum + v, 0) / Math.max(1, states.length);
  return states.reduce<Point<'face'> | null>((best, state) => {
    const off = (of: Point<'face'>) => Math.abs(of[1] - middle) + of[0] / 1000;
    return best && off(best) <= off(state) ? best : state;
  }, null);
}
