import {
  difference,
  intersection,
  type Point,
  type Polygon,
  type Region,
  regionArea,
  regionsArea,
} from '../../../geometry';

/** A piece smaller than this, mm2, is a sliver of the drawn line's own unevenness. */
const SLIVER = 100;

/**
 * The sapwood that a line along its inner edge cuts off: the smaller side of the wood, since sapwood is a rim. The line is carried on
 * straight at both ends until it leaves the wood.
 * @param edge from one end of the sapwood to the other, mm on the face
 */
export function sapwoodFrom(edge: readonly Point<'face'>[], outline: Region<'face'>): Polygon<'face'>[] {
  const xs = outline.outer.map(([x]) => x);
  const ys = outline.outer.map(([, y]) => y);
  const far = 3 * (Math.max(...xs) - Math.min(...xs) + Math.max(...ys) - Math.min(...ys));
  const line = [beyond(edge[1], edge[0], far), ...edge, beyond(edge.at(-2), edge.at(-1), far)];
  const [first, last] = [line[0], line.at(-1)] as [Point<'face'>, Point<'face'>];
  const [dx, dy] = [last[0] - first[0], last[1] - first[1]];
  const long = Math.hypot(dx, dy) || 1;
  // Closed far off on its left, the line becomes one half of the plane.
  const off: Point<'face'> = [(-dy / long) * far, (dx / long) * far];
  const half: Region<'face'>[] = [
    { outer: [...line, [last[0] + off[0], last[1] + off[1]], [first[0] + off[0], first[1] + off[1]]], holes: [] },
  ];
  const sides = [intersection([outline], half), difference([outline], half)];
  const rim = sides.sort((a, b) => regionsArea(a) - regionsArea(b))[0] ?? [];
  return rim.filter((region) => regionArea(region) > SLIVER).map(({ outer }) => outer);
}

/** The point `far` mm beyond `to`, coming from `from`. */
function beyond(from: Point<'face'> = [0, 0], to: Point<'face'> = [0, 0], far: number): Point<'face'> {
  const long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [to[0] + (far * (to[0] - from[0])) / long, to[1] + (far * (to[1] - from[1])) / long];
}
