import type { Point } from '../geometry';
import type { Local } from './marks';

/** Four corners in the photo, clockwise from the drawing's own top left. */
export type Corners = readonly [Point<'photo'>, Point<'photo'>, Point<'photo'>, Point<'photo'>];

/** The projective map from the unit square about the origin to four corners, clockwise from top left (Heckbert 1989). */
export function squareTo(corners: Corners): (p: Local) => Point<'photo'> {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = corners;
  const [dx1, dy1, dx2, dy2] = [x1 - x2, y1 - y2, x3 - x2, y3 - y2];
  const [sx, sy] = [x0 - x1 + x2 - x3, y0 - y1 + y2 - y3];
  const det = dx1 * dy2 - dx2 * dy1;
  const g = (sx * dy2 - dx2 * sy) / det;
  const h = (dx1 * sy - sx * dy1) / det;
  const [a, b] = [x1 - x0 + g * x1, x3 - x0 + h * x3];
  const [d, e] = [y1 - y0 + g * y1, y3 - y0 + h * y3];
  return ([x, y]) => {
    const [s, t] = [x + 0.5, y + 0.5];
    const w = g * s + h * t + 1;
    return [(a * s + b * t + x0) / w, (d * s + e * t + y0) / w];
  };
}

/** Corners where straight lines through the spots of the four sides (top, right, bottom, left) meet; null where a side has too few. */
export function cornersFromSides(sides: readonly (readonly Point<'photo'>[])[]): Corners | null {
  if (sides.some((side) => side.length < 3)) return null;
  const lines = sides.map(lineThrough);
  const meet = (i: number, j: number): Point<'photo'> => {
    const [a, b] = [lines[i] as Line, lines[j] as Line];
    const det = a.nx * b.ny - a.ny * b.nx;
    return [(a.d * b.ny - a.ny * b.d) / det, (a.nx * b.d - a.d * b.nx) / det];
  };
  return [meet(3, 0), meet(0, 1), meet(1, 2), meet(2, 3)];
}

/** The things whose spots lie on the line that most of them lie on, to within `px`; the odd ones are dropped worst first. */
export function onOneLine<T>(things: readonly T[], spot: (thing: T) => Point<'photo'>, px: number): T[] {
  let kept = [...things];
  while (kept.length > 2) {
    const line = lineThrough(kept.map(spot));
    const off = (thing: T) => Math.abs(line.nx * spot(thing)[0] + line.ny * spot(thing)[1] - line.d);
    const worst = kept.reduce((a, b) => (off(b) > off(a) ? b : a));
    if (off(worst) <= px) break;
    kept = kept.filter((thing) => thing !== worst);
  }
  return kept;
}

/** The unit direction square to a line from `a` to `b` in the photo, on the side to which `towards` points from it on the drawing. */
export function squareOff(
  [a, b]: readonly [Point<'photo'>, Point<'photo'>],
  [from, to]: readonly [Local, Local],
  towards: Local,
): readonly [number, number] {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const turn = towards[0] * (to[1] - from[1]) - towards[1] * (to[0] - from[0]) > 0 ? 1 : -1;
  return [((b[1] - a[1]) / length) * turn, (-(b[0] - a[0]) / length) * turn];
}

interface Line {
  readonly nx: number;
  readonly ny: number;
  readonly d: number;
}

/** The line nx x + ny y = d nearest to points, in the mean of squares. */
function lineThrough(points: readonly Point<'photo'>[]): Line {
  const n = points.length;
  const mx = points.reduce((sum, p) => sum + p[0], 0) / n;
  const my = points.reduce((sum, p) => sum + p[1], 0) / n;
  let [xx, xy, yy] = [0, 0, 0];
  for (const [x, y] of points) {
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
    yy += (y - my) ** 2;
  }
  const along = 0.5 * Math.atan2(2 * xy, xx - yy);
  const [nx, ny] = [-Math.sin(along), Math.cos(along)];
  return { nx, ny, d: nx * mx + ny * my };
}
