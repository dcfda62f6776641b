import { applyToRegions, bounds, intersection, type Polygon, regionArea } from '../geometry';
import type { Strip, Top } from '../job';
import type { FaceStock } from './stock';
import { stripMap } from './strips';

/** Wood smaller than this (mm2) is the rounding of the clipping library. */
const SLIVER = 2;

/** A face as it is offered to a top: where the top must show no sapwood, that is kept off like a defect. */
export function offeredTo(top: Pick<Top, 'sapwood'>, stock: FaceStock): FaceStock {
  if (top.sapwood !== 'not') return stock;
  const area = stock.sapwood();
  if (area.length === 0) return stock;
  return {
    ...stock,
    keptOff: [...stock.keptOff, { why: 'sapwood', name: 'sapwood', area }],
    forbidden: [...stock.forbidden, ...area],
  };
}

/**
 * Share of a top's length over which sapwood shows in it, 0..1.
 * @param sapwood of the face of each strip
 */
export function sapwoodAlong(
  strips: readonly Strip[],
  sapwood: readonly (readonly Polygon<'face'>[])[],
  length: number,
): number {
  const spans = strips.flatMap((strip, i) => {
    const laid = (sapwood[i] ?? []).flatMap((outer) =>
      intersection([{ outer: strip.finished, holes: [] }], [{ outer, holes: [] }]),
    );
    // What hangs together lies over every x between its ends.
    return applyToRegions(stripMap(strip), laid)
      .filter((region) => regionArea(region) > SLIVER)
      .map(({ outer }) => bounds(outer));
  });
  let [shown, reached] = [0, 0];
  for (const { minX, maxX } of spans.sort((a, b) => a.minX - b.minX)) {
    shown += Math.max(0, maxX - Math.max(minX, reached));
    reached = Math.max(reached, maxX);
  }
  return Math.min(1, shown / length);
}
