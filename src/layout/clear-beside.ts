import { applyToRegions, difference, type Region, rectangle, type Segment } from '../geometry';
import { type FaceStock, usable } from './stock';
import { layEdge } from './strips';

/** Farther than any slab reaches, mm. */
const FAR = 1e5;

/** Wood that may be cut, by face: a search asks for many lines of the same few. Nothing outlives its face. */
const known = new WeakMap<FaceStock, readonly Region<'face'>[]>();

function usableOnce(stock: FaceStock): readonly Region<'face'>[] {
  const wood = known.get(stock) ?? usable(stock);
  known.set(stock, wood);
  return wood;
}

/**
 * How deep the wood that may be cut goes, in front of a line (-1) or behind it (1), all along it: to what must be kept off or to the margin of the wood's
 * edge, whichever is nearer. mm; 0 where the line itself lies in neither.
 */
export function clearBeside(stock: FaceStock, line: Segment<'face'>, side: -1 | 1): number {
  const length = Math.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]);
  const beside = { outer: rectangle<'top'>(0, Math.min(0, side * FAR), length, Math.max(0, side * FAR)), holes: [] };
  const bad = difference([beside], applyToRegions(layEdge(line, 0), usableOnce(stock)));
  return bad.reduce((least, { outer }) => Math.min(least, ...outer.map(([, y]) => side * y)), FAR);
}
