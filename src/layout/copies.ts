import type { Shop, Top } from '../job';
import { type StripPlace, type StripWish, stripPlaces } from './columns';
import type { Candidate } from './placement';
import type { FaceStock } from './stock';
import { lessTaken } from './taken';

/** The same place, taken by another copy of the top. */
export const forCopy = (candidate: Candidate, top: Top): Candidate => ({
  ...candidate,
  top,
  placement: { ...candidate.placement, top: top.id },
});

/**
 * Places for several alike tops on one face, none in another's way: the best is taken, and the next looked for in what is left. Among the best
 * places of a face alone all may lie over each other.
 * @param cut the top cut from a place, or null where it cannot be
 */
export function placesBeside(
  face: FaceStock,
  wish: StripWish,
  count: number,
  shop: Shop,
  cut: (place: StripPlace) => Candidate | null,
): Candidate[] {
  const found: Candidate[] = [];
  let left: FaceStock | null = face;
  while (left && found.length < count) {
    let next: Candidate | null = null;
    for (const place of stripPlaces(left, wish)) {
      next = cut({ ...place, stock: face });
      if (next) break;
    }
    if (!next) break;
    found.push(next);
    left = lessTaken(left, next.placement.strips, shop);
  }
  return found;
}
