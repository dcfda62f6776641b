import { applyAll, bounds, invert, rectangle } from '../geometry';
import type { Shop, Top } from '../job';
import { type StripPlace, type StripWish, stripPlaces } from './columns';
import type { Candidate } from './placement';
import type { FaceStock } from './stock';
import { stripMap } from './strips';

/** The same place, taken by another copy of the top. */
export const forCopy = (candidate: Candidate, top: Top): Candidate => ({
  ...candidate,
  top,
  placement: { ...candidate.placement, top: top.id },
});

/** A face without a piece's blank, the kerf around it and the allowances of a piece beside it. */
function less(face: FaceStock, { placement }: Candidate, shop: Shop): FaceStock {
  const taken = placement.strips.map((strip) => {
    const { minX, maxX, minY, maxY } = bounds(applyAll(stripMap(strip), strip.rough));
    const [along, across] = [shop.kerf.crosscut + shop.endAllowance, shop.kerf.rip + shop.jointAllowance];
    const box = rectangle<'top'>(minX - along, minY - across, maxX + along, maxY + across);
    return { outer: applyAll(invert(stripMap(strip)), box), holes: [] };
  });
  return { ...face, forbidden: [...face.forbidden, ...taken] };
}

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
  let left = face;
  while (found.length < count) {
    let next: Candidate | null = null;
    for (const place of stripPlaces(left, wish)) {
      next = cut({ ...place, stock: face });
      if (next) break;
    }
    if (!next) break;
    found.push(next);
    left = less(left, next, shop);
  }
  return found;
}
