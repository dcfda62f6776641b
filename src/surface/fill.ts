import { bounds, crossingsAtX, densify, type Point, type Region } from '../geometry';

/**
 * Points spread over a region: along its edges, its corners among them, and on a grid inside. None are farther apart than `step`.
 */
export function fill(region: Region<'face'>, step: number): Point<'face'>[] {
  const rings = [region.outer, ...region.holes];
  const points = rings.flatMap((ring) => densify(ring, step / 2));
  const { minX, maxX } = bounds(region.outer);
  const columns = Math.ceil((maxX - minX) / step);
  for (let c = 1; c < columns; c++) {
    const x = minX + ((maxX - minX) * c) / columns;
    const ys = rings.flatMap((ring) => crossingsAtX(ring, x)).sort((a, b) => a - b);
    for (let k = 0; k + 1 < ys.length; k += 2) {
      const [from, to] = [ys[k] as number, ys[k + 1] as number];
      const rows = Math.ceil((to - from) / step);
      for (let r = 1; r < rows; r++) points.push([x, from + ((to - from) * r) / rows]);
    }
  }
  return points;
}
