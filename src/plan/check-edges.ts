import { distance, distanceToSegment, type Frame, type Point, type Polygon, type Segment } from '../geometry';

/** Distances to edges of many corners, looked up in upright bands so that no question looks at every edge. */

/** Width of a band, mm. */
const BAND = 40;

const side = <F extends Frame>([a, b]: Segment<F>, p: Point<F>): number =>
  (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]);

/** Whether two straight pieces cross, each with an end on either side of the other. */
const cross = <F extends Frame>(s: Segment<F>, t: Segment<F>): boolean =>
  side(s, t[0]) * side(s, t[1]) < 0 && side(t, s[0]) * side(t, s[1]) < 0;

/** Distance between two straight pieces: from an end of one, unless they cross. */
function betweenSegments<F extends Frame>(s: Segment<F>, t: Segment<F>): number {
  if (cross(s, t)) return 0;
  return Math.min(
    distanceToSegment(s[0], t),
    distanceToSegment(s[1], t),
    distanceToSegment(t[0], s),
    distanceToSegment(t[1], s),
  );
}

/** The edges of rings. */
export class Edges<F extends Frame> {
  readonly #bands = new Map<number, Segment<F>[]>();

  constructor(rings: readonly Polygon<F>[]) {
    for (const ring of rings) {
      ring.forEach((p, i) => {
        const edge: Segment<F> = [p, ring[(i + 1) % ring.length] as Point<F>];
        const [from, to] = [Math.min(p[0], edge[1][0]), Math.max(p[0], edge[1][0])];
        for (let band = Math.floor(from / BAND); band <= Math.floor(to / BAND); band++) this.#band(band).push(edge);
      });
    }
  }

  #band(at: number): Segment<F>[] {
    const known = this.#bands.get(at);
    if (known) return known;
    const band: Segment<F>[] = [];
    this.#bands.set(at, band);
    return band;
  }

  /** Distance from a straight piece to the nearest edge, where it is less than `limit`; else `limit`. */
  within(piece: Segment<F>, limit: number): number {
    const [from, to] = [Math.min(piece[0][0], piece[1][0]) - limit, Math.max(piece[0][0], piece[1][0]) + limit];
    let least = limit;
    for (let band = Math.floor(from / BAND); band <= Math.floor(to / BAND); band++)
      for (const edge of this.#bands.get(band) ?? []) least = Math.min(least, betweenSegments(piece, edge));
    return least;
  }

  /** The ys, sorted, at which the upright line through `x` crosses the rings: in and out in turn. */
  crossings(x: number): number[] {
    const ys: number[] = [];
    for (const [p, q] of this.#bands.get(Math.floor(x / BAND)) ?? [])
      if (p[0] > x !== q[0] > x) ys.push(p[1] + ((x - p[0]) * (q[1] - p[1])) / (q[0] - p[0]));
    return ys.sort((a, b) => a - b);
  }
}

/** A line without the first `by` mm of it, but whole from the first corner on at which it must `stop`. */
export function behind<F extends Frame>(
  line: readonly Point<F>[],
  by: number,
  stop: (p: Point<F>) => boolean,
): readonly Point<F>[] {
  let left = by;
  for (let i = 0; i + 1 < line.length; i++) {
    const [p, q] = [line[i] as Point<F>, line[i + 1] as Point<F>];
    if (i > 0 && stop(p)) return line.slice(i);
    const length = distance(p, q);
    if (length > left) {
      const t = left / length;
      return [[p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])], ...line.slice(i + 1)];
    }
    left -= length;
  }
  return [];
}
