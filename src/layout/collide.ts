import { bounds, intersection, regionsArea } from '../geometry';
import type { Strip } from '../job';

/** Overlaps smaller than this (mm2) are rounding. */
const SLIVER = 2;

/** Whether two strips come from one slab, be it from its two faces. */
export const sameSlab = (a: Strip, b: Strip): boolean => a.flitch === b.flitch && a.slab === b.slab;

/** Whether two strips cannot both be sawn: from the two faces of one slab, or overlapping once a kerf is kept between them. */
export function collide(a: Strip, b: Strip, kerf: number): boolean {
  if (!sameSlab(a, b)) return false;
  if (a.face !== b.face) return true;
  const [p, q] = [bounds(a.rough), bounds(b.rough)];
  const apart =
    p.maxX + kerf <= q.minX || q.maxX + kerf <= p.minX || p.maxY + kerf <= q.minY || q.maxY + kerf <= p.minY;
  if (apart) return false;
  // The blank moved a kerf to each side covers what the saw would take of it.
  return [
    [0, 0],
    [kerf, 0],
    [-kerf, 0],
    [0, kerf],
    [0, -kerf],
  ].some(([dx, dy]) => {
    const moved = a.rough.map(([x, y]) => [x + (dx as number), y + (dy as number)] as const);
    const shared = intersection([{ outer: moved, holes: [] }], [{ outer: b.rough, holes: [] }]);
    return regionsArea(shared) > SLIVER;
  });
}
