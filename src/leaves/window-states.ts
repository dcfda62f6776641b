import type { Bounds, Point } from '../geometry';
import { type ReadyLeaf, slotFits } from './set-bench';
import type { Slot } from './set-slots';

/** Places of a window that are tried before the best are refined: so far apart along and across the grain, mm, and so many at most. */
const ALONG = 20;
const ACROSS = 4;
const MOST_ALONG = 10;
const MOST_ACROSS = 24;
/** Where none of these is sound, places this far apart are looked at, mm. */
const CLOSE = [4, 1] as const;
const MOST_CLOSE = 40;

/** Where along its leaves a sheet may lie, mm from each leaf's own first end. */
export interface Lane {
  readonly from: number;
  readonly to: number;
}

/** Whole millimetres from `from` to `to`, both ends among them, about `step` apart and no more than `most`. */
function spread(from: number, to: number, step: number, most: number): number[] {
  const [first, last] = [Math.ceil(from - 1e-6), Math.floor(to + 1e-6)];
  if (last < first) return to - from >= -1e-6 ? [from] : [];
  const parts = Math.min(most - 1, Math.ceil((last - first) / step));
  if (parts <= 0) return [first];
  return [...new Set(Array.from({ length: parts + 1 }, (_, i) => Math.round(first + ((last - first) * i) / parts)))];
}

/** Places of a leaf at which a slot may lie, for a coarse look; off the leaf's origin, so that leaves of one board can be compared. */
export function statesOf(leaf: ReadyLeaf, slot: Slot, lane: Lane, taken: readonly Bounds[]): Point<'face'>[] {
  const { minX, maxX, minY, maxY } = slot.box;
  const [u0, u1] = [lane.from - minX, Math.min(lane.to, leaf.length) - maxX];
  const [v0, v1] = [-minY, leaf.width - maxY];
  const at = (us: readonly number[], vs: readonly number[]) =>
    us.flatMap((u) => vs.map((v): Point<'face'> => [u, v])).filter((place) => laneFits(leaf, slot, place, lane, taken));
  const coarse = at(spread(u0, u1, ALONG, MOST_ALONG), spread(v0, v1, ACROSS, MOST_ACROSS));
  if (coarse.length > 0) return coarse;
  const close = at(spread(u0, u1, CLOSE[0], MOST_CLOSE), spread(v0, v1, CLOSE[1], MOST_CLOSE));
  return close.filter((_, i) => i % Math.ceil(close.length / (MOST_ALONG * MOST_ACROSS)) === 0);
}

/** Places of a leaf at which a slot may lie, everywhere at whole steps; off the leaf's origin. */
export function densePlaces(
  leaf: ReadyLeaf,
  slot: Slot,
  lane: Lane,
  taken: readonly Bounds[],
  [along, across]: readonly [number, number],
): Point<'face'>[] {
  const { minX, maxX, minY, maxY } = slot.box;
  const us = spread(lane.from - minX, Math.min(lane.to, leaf.length) - maxX, along, Infinity);
  const vs = spread(-minY, leaf.width - maxY, across, Infinity);
  return us.flatMap((u) => vs.map((v): Point<'face'> => [u, v])).filter((at) => laneFits(leaf, slot, at, lane, taken));
}

/** Whether a slot may lie at a place off the leaf's origin: sound, within its lane, and off wood that is taken. */
export function laneFits(
  leaf: ReadyLeaf,
  slot: Slot,
  [u, v]: Point<'face'>,
  lane: Lane,
  taken: readonly Bounds[],
): boolean {
  const { minX, maxX, minY, maxY } = slot.box;
  if (u + minX < lane.from - 1e-6 || u + maxX > lane.to + 1e-6) return false;
  const [x, y] = [u + leaf.origin[0], v + leaf.origin[1]];
  if (taken.some((box) => box.minX < x + maxX && box.maxX > x + minX && box.minY < y + maxY && box.maxY > y + minY))
    return false;
  return slotFits(leaf, slot, [x, y]);
}
