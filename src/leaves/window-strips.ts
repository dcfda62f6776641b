import { bounds, intersection, type Polygon, type Region, rectangle } from '../geometry';

/** A rectangle of a window, along and across the grain, mm from the window's own origin. */
export interface Strip {
  readonly u: number;
  readonly v: number;
  readonly along: number;
  readonly across: number;
}

/** Breadth of the strips that a slanted edge is covered by, mm. */
const BREADTH = 4;
/** Edges off the level by less than this are level, mm: booleans round to a micrometre. */
const LEVEL = 0.01;

const isBox = ({ outer, holes }: Region<'face'>): boolean => {
  const { minX, minY, maxX, maxY } = bounds(outer);
  const corner = ([x, y]: readonly [number, number]) =>
    Math.min(Math.abs(x - minX), Math.abs(x - maxX)) < LEVEL &&
    Math.min(Math.abs(y - minY), Math.abs(y - maxY)) < LEVEL;
  return holes.length === 0 && outer.every(corner);
};

/**
 * Rectangles that cover regions, as small as may be: boxes as they are, others in strips along the grain. What the rectangles find sound is sound; a
 * slanted edge is judged a little too large.
 */
export function stripsOf(regions: readonly Region<'face'>[]): Strip[] {
  return regions.flatMap((region) => (isBox(region) ? [stripOf(region.outer)] : banded(region)));
}

function stripOf(ring: Polygon<'face'>): Strip {
  const { minX, minY, maxX, maxY } = bounds(ring);
  return { u: minX, v: minY, along: maxX - minX, across: maxY - minY };
}

function banded(region: Region<'face'>): Strip[] {
  const box = bounds(region.outer);
  const heights = [region.outer, ...region.holes].flat().map(([, y]) => y);
  const breaks = [...new Set(heights)].sort((a, b) => a - b);
  return breaks.slice(1).flatMap((to, i) => {
    const from = breaks[i] as number;
    if (to - from < LEVEL) return [];
    const parts = Math.ceil((to - from) / BREADTH);
    return Array.from({ length: parts }, (_, k) => {
      const [y0, y1] = [from + ((to - from) * k) / parts, from + ((to - from) * (k + 1)) / parts];
      const band = { outer: rectangle<'face'>(box.minX - 1, y0, box.maxX + 1, y1), holes: [] };
      return intersection([region], [band]).map(({ outer }) => stripOf(outer));
    }).flat();
  });
}
