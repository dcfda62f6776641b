import { bounds } from '../geometry';
import type { Shop, Top } from '../job';
import type { Control } from '../search';
import type { KnownSeam } from './known-seams';
import { liveSeams } from './live-seams';
import { seamsAlong } from './seam-again';
import type { SearchedSlab } from './seam-found';
import type { LookedAt } from './seam-grain';
import { seamLook } from './seam-look';
import type { SeamPlace } from './seam-place';
import { findSeams } from './seam-search';
import { besideZone, seamZones } from './seam-zones';
import { shapeSeams } from './shape-seams';
import type { FaceStock } from './stock';

/** So many seams between two live edges are given. */
const LIVE = 8;

/**
 * Seams of two faces that could carry the top, the best first: by how they look where both faces have pictures, else by shape.
 * @param looks both faces made ready together; null where one has no picture
 * @param known seams of the two that were found before: where there are any, only along them is looked
 */
export async function seamPlaces(
  front: FaceStock,
  back: FaceStock,
  looks: LookedAt | null,
  top: Top,
  shop: Shop,
  control: Control,
  known: readonly KnownSeam[] = [],
): Promise<SeamPlace[]> {
  if (top.back === 'live') return liveSeams(front, back, looks, top, shop).slice(0, LIVE);
  if (!looks) return shapeSeams(front, back, top, shop);
  const searched = (stock: FaceStock, i: 0 | 1): SearchedSlab => {
    const { outline, inside, forbidden } = stock;
    const { minX, maxX } = bounds(outline.outer);
    return { outline, inside, forbidden, features: looks[i], middle: (minX + maxX) / 2 };
  };
  const wish = {
    length: top.length,
    depth: top.depth,
    front: top.front,
    leastStrip: top.leastStrip,
    swing: top.swing,
    noSeam: seamZones(top).map(besideZone),
    keepOff: 'strip',
  } as const;
  const slabs = [searched(front, 0), searched(back, 1)] as const;
  const seams =
    known.length > 0
      ? await seamsAlong(...slabs, wish, shop.seam, known, control)
      : (await findSeams(...slabs, wish, shop.seam, control)).seams;
  if (seams.length === 0) return asTheyLook(shapeSeams(front, back, top, shop), looks);
  return seams.map(({ front: f, back: b, blend, lines, slide, flipped }) => ({
    front: { stock: front, line: f.line },
    back: { stock: back, line: b.line },
    blend,
    lines,
    slide,
    flipped,
  }));
}

/**
 * Seams by shape with how they look, the best first: where the wood is hardly larger than the top, the search steps over the few lines that
 * it leaves.
 */
function asTheyLook(seams: readonly SeamPlace[], looks: LookedAt): SeamPlace[] {
  const look = seamLook(looks);
  return seams
    .map((seam) => {
      const { blend, lines } = look(seam);
      return { ...seam, blend, lines };
    })
    .sort((p, q) => (q.blend ?? 0) - (p.blend ?? 0));
}
