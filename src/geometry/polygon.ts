import type { Bounds, Frame, Point, Polygon, Region, Segment } from './frame';

/** Twice the signed area; positive when the ring turns from +x to +y (clockwise as seen with y down). */
function twiceSignedArea(ring: Polygon<Frame>): number {
  let sum = 0;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i] as Point<Frame>;
    const [xj, yj] = ring[j] as Point<Frame>;
    sum += xj * yi - xi * yj;
  }
  return sum;
}

/** Signed area in the square of the frame's unit; positive when the ring turns from +x to +y. */
function signedArea<F extends Frame>(ring: Polygon<F>): number {
  return twiceSignedArea(ring) / 2;
}

/** Area of a simple ring, never negative. */
export function ringArea<F extends Frame>(ring: Polygon<F>): number {
  return Math.abs(signedArea(ring));
}

/** Area of a region: the outer ring less its holes. */
export function regionArea<F extends Frame>(region: Region<F>): number {
  return region.holes.reduce((sum, hole) => sum - ringArea(hole), ringArea(region.outer));
}

/** Area of regions that do not overlap. */
export function regionsArea<F extends Frame>(regions: readonly Region<F>[]): number {
  return regions.reduce((sum, region) => sum + regionArea(region), 0);
}

/** The outer ring that holds most, holes not taken off; null of no regions. */
export function largestRing<F extends Frame>(regions: readonly Region<F>[]): Polygon<F> | null {
  return regions.reduce<Polygon<F> | null>(
    (best, { outer }) => (!best || ringArea(outer) > ringArea(best) ? outer : best),
    null,
  );
}

/**
 * The region of most area.
 * @throws TypeError of no regions
 */
export function largestRegion<F extends Frame>(regions: readonly Region<F>[]): Region<F> {
  return regions.reduce((a, b) => (regionArea(b) > regionArea(a) ? b : a));
}

/** Whether two edges of a ring cross or touch that are not neighbours, or a corner turns straight back. */
export function crossesItself<F extends Frame>(ring: Polygon<F>): boolean {
  const side = (a: Point<F>, b: Point<F>, c: Point<F>): number => Math.sign(turn(a, b, c));
  const between = (a: Point<F>, b: Point<F>, p: Point<F>): boolean =>
    Math.min(a[0], b[0]) <= p[0] &&
    p[0] <= Math.max(a[0], b[0]) &&
    Math.min(a[1], b[1]) <= p[1] &&
    p[1] <= Math.max(a[1], b[1]);
  const n = ring.length;
  for (let i = 0; i < n; i++) {
    const [a, b] = [ring[i] as Point<F>, ring[(i + 1) % n] as Point<F>];
    const c = ring[(i + 2) % n] as Point<F>;
    if (side(a, b, c) === 0 && (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1]) < 0) return true;
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const [p, q] = [ring[j] as Point<F>, ring[(j + 1) % n] as Point<F>];
      const [s, t, u, v] = [side(a, b, p), side(a, b, q), side(p, q, a), side(p, q, b)];
      if (s !== t && u !== v && s * t <= 0 && u * v <= 0) return true;
      if (s === 0 && t === 0 && (between(a, b, p) || between(a, b, q) || between(p, q, a))) return true;
    }
  }
  return false;
}

/** Centre of area. A ring without area gives the mean of its points. */
export function centroid<F extends Frame>(ring: Polygon<F>): Point<F> {
  const a = twiceSignedArea(ring);
  let x = 0;
  let y = 0;
  if (Math.abs(a) < 1e-9) {
    for (const p of ring) {
      x += p[0] / ring.length;
      y += p[1] / ring.length;
    }
    return [x, y];
  }
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i] as Point<F>;
    const [xj, yj] = ring[j] as Point<F>;
    const cross = xj * yi - xi * yj;
    x += (xi + xj) * cross;
    y += (yi + yj) * cross;
  }
  return [x / (3 * a), y / (3 * a)];
}

/** Smallest box with sides along the axes. @throws RangeError for no points. */
export function bounds<F extends Frame>(points: readonly Point<F>[]): Bounds {
  if (points.length === 0) throw new RangeError('No points have no bounds.');
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const [x, y] of points) {
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** Whether the point lies inside the ring (even-odd; on the edge either answer may come). */
export function contains<F extends Frame>(ring: Polygon<F>, [x, y]: Point<F>): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i] as Point<F>;
    const [xj, yj] = ring[j] as Point<F>;
    if (yi > y !== yj > y && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/** Whether the point lies in the region: inside the outer ring and in no hole. */
export function regionContains<F extends Frame>(region: Region<F>, p: Point<F>): boolean {
  return contains(region.outer, p) && !region.holes.some((hole) => contains(hole, p));
}

/** Distance between two points. */
export function distance<F extends Frame>(p: Point<F>, q: Point<F>): number {
  const [dx, dy] = [p[0] - q[0], p[1] - q[1]];
  return Math.sqrt(dx * dx + dy * dy);
}

/** Distance from a point to the nearest point of a segment. */
export function distanceToSegment<F extends Frame>(p: Point<F>, [a, b]: Segment<F>): number {
  return distance(p, nearestOnSegment(p, [a, b]));
}

/** The point of a segment that lies nearest. */
export function nearestOnSegment<F extends Frame>(p: Point<F>, [a, b]: Segment<F>): Point<F> {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const len2 = dx * dx + dy * dy;
  const t = len2 === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / len2));
  return [a[0] + t * dx, a[1] + t * dy];
}

/** Twice the area of the corner p, q, r; its sign tells on which side of p to q the point r lies. */
const turn = <F extends Frame>(p: Point<F>, q: Point<F>, r: Point<F>): number =>
  (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);

/** Whether two segments cross, each with its ends on both sides of the other; segments that but touch do not. */
export const segmentsCross = <F extends Frame>([a, b]: Segment<F>, [c, d]: Segment<F>): boolean =>
  turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0;

/** Distance from a point to the nearest point of a ring's edge, on whichever side the point lies. */
export function distanceToRing<F extends Frame>([x, y]: Point<F>, ring: Polygon<F>): number {
  let least = Infinity;
  let [ax, ay] = ring.at(-1) ?? [Number.NaN, Number.NaN];
  for (let i = 0; i < ring.length; i++) {
    const [bx, by] = ring[i] as Point<F>;
    const [dx, dy] = [bx - ax, by - ay];
    const along = (x - ax) * dx + (y - ay) * dy;
    const square = dx * dx + dy * dy;
    const t = square === 0 ? 0 : Math.max(0, Math.min(1, along / square));
    const [ex, ey] = [x - ax - t * dx, y - ay - t * dy];
    least = Math.min(least, ex * ex + ey * ey);
    [ax, ay] = [bx, by];
  }
  return Math.sqrt(least);
}

/** The ys (sorted) at which the upright line through `x` crosses the ring: entering and leaving in turn. */
export function crossingsAtX<F extends Frame>(ring: Polygon<F>, x: number): number[] {
  const ys: number[] = [];
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [xi, yi] = ring[i] as Point<F>;
    const [xj, yj] = ring[j] as Point<F>;
    if (xi > x !== xj > x) ys.push(yj + ((x - xj) * (yi - yj)) / (xi - xj));
  }
  return ys.sort((a, b) => a - b);
}

/** A rectangle as a ring, turning from +x to +y. */
export function rectangle<F extends Frame>(minX: number, minY: number, maxX: number, maxY: number): Polygon<F> {
  return [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ];
}

/** Ring points at most `step` apart, the corners kept. */
export function densify<F extends Frame>(ring: Polygon<F>, step: number): Point<F>[] {
  const out: Point<F>[] = [];
  for (let i = 0; i < ring.length; i++) {
    const p = ring[i] as Point<F>;
    const q = ring[(i + 1) % ring.length] as Point<F>;
    const n = Math.max(1, Math.ceil(distance(p, q) / step));
    for (let k = 0; k < n; k++) out.push([p[0] + ((q[0] - p[0]) * k) / n, p[1] + ((q[1] - p[1]) * k) / n]);
  }
  return out;
}

/**
 * Fewer points, none of the dropped ones farther than `tolerance` from what is left
 * (Douglas and Peucker 1973, on a ring split at its two most distant points).
 */
export function simplify<F extends Frame>(ring: Polygon<F>, tolerance: number): Polygon<F> {
  if (ring.length < 5) return ring;
  const first = ring[0] as Point<F>;
  let far = 0;
  ring.forEach((p, i) => {
    if (distance(first, p) > distance(first, ring[far] as Point<F>)) far = i;
  });
  const head = simplifyLine(ring.slice(0, far + 1), tolerance);
  const tail = simplifyLine([...ring.slice(far), first], tolerance);
  return [...head.slice(0, -1), ...tail.slice(0, -1)];
}

/** The same for an open line; its two ends stay. */
export function simplifyLine<F extends Frame>(line: readonly Point<F>[], tolerance: number): Point<F>[] {
  const keep = new Uint8Array(line.length);
  keep[0] = 1;
  keep[line.length - 1] = 1;
  const spans: [number, number][] = [[0, line.length - 1]];
  for (let span = spans.pop(); span; span = spans.pop()) {
    const [i, j] = span;
    let worst = tolerance;
    let at = -1;
    for (let k = i + 1; k < j; k++) {
      const d = distanceToSegment(line[k] as Point<F>, [line[i] as Point<F>, line[j] as Point<F>]);
      if (d > worst) {
        worst = d;
        at = k;
      }
    }
    if (at > 0) {
      keep[at] = 1;
      spans.push([i, at], [at, j]);
    }
  }
  return line.filter((_, k) => keep[k] === 1);
}
