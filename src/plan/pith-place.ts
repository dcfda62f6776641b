import { bounds, centroid, regionArea } from '../geometry';
import { type Flitch, type Slab, slabsInOrder } from '../job';
import { farPith } from '../layout';
import { logMiddle, type PithPlace, type SawnSlab } from '../wood';

/** What a sawmill's blade takes between two slabs, mm: 1.8-2.5 for a band, 4-7 for a circular saw (from memory); of no weight here. */
const MILL_KERF = 3;

/** Thickness of a slab as sawn, mm: as said, or the middle one of its readings; null where nothing tells. */
export function sawnThickness(slab: Slab): number | null {
  if (slab.thickness !== null) return slab.thickness;
  const read = Object.values(slab.spots).flatMap(({ top, bottom, thickness }) =>
    thickness !== null ? [thickness] : top !== null && bottom !== null ? [top - bottom] : [],
  );
  return read.sort((a, b) => a - b)[read.length >> 1] ?? null;
}

/**
 * Where the log's pith runs past a slab, in the frame of its top face (y of the face, z up and out of it). How high it lies follows from the
 * widths of the flitch's slabs (a log is widest at its middle), upper faces taken as those towards slab 1; where across, from the pith line that
 * one of its faces shows, else its middle. Null where fewer than three slabs of the flitch have an outline and a thickness.
 */
export function pithPlace(flitch: Flitch, slab: Slab): PithPlace | null {
  const slabs = slabsInOrder(flitch);
  const known = slabs.map(sawnThickness).filter((mm) => mm !== null);
  if (known.length === 0) return null;
  const usual = known.reduce((sum, mm) => sum + mm, 0) / known.length;
  const heightOf = ({ place }: Slab): number => -(place - 1) * (usual + MILL_KERF);
  const widths = slabs.flatMap((each): SawnSlab[] => {
    const { outline } = each.faces.top;
    if (!outline) return [];
    const { minX, maxX } = bounds(outline.outer);
    return [{ z: heightOf(each), width: regionArea(outline) / (maxX - minX) }];
  });
  const middle = logMiddle(widths);
  if (middle === null) return null;
  const { outline } = slab.faces.top;
  const pith = slab.faces.top.pith ?? farPith(slab, 'top');
  const across = pith && pith.length > 0 ? pith.reduce((sum, [, y]) => sum + y, 0) / pith.length : null;
  const y = across ?? (outline ? centroid(outline.outer)[1] : null);
  return y === null ? null : { y, z: middle - heightOf(slab) };
}
