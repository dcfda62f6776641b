import { applyAll, bounds, invert, rectangle } from '../geometry';
import type { Shop, Strip } from '../job';
import type { FaceStock } from './stock';
import { stripMap } from './strips';

/**
 * A face without the blanks that other pieces take of its slab, the kerf around them and the allowances of a piece beside them; null where the
 * slab is cut from its other face.
 */
export function lessTaken(face: FaceStock, strips: readonly Strip[], shop: Shop): FaceStock | null {
  const own = strips.filter(({ flitch, slab }) => flitch === face.flitch.id && slab === face.slab.id);
  if (own.length === 0) return face;
  if (own.some((strip) => strip.face !== face.face)) return null;
  const [along, across] = [shop.kerf.crosscut + shop.endAllowance, shop.kerf.rip + shop.jointAllowance];
  const taken = own.map((strip) => {
    const { minX, maxX, minY, maxY } = bounds(applyAll(stripMap(strip), strip.rough));
    const box = rectangle<'top'>(minX - along, minY - across, maxX + along, maxY + across);
    return { outer: applyAll(invert(stripMap(strip)), box), holes: [] };
  });
  return { ...face, forbidden: [...face.forbidden, ...taken] };
}
