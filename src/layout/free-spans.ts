import { bounds, type Frame, type Point, type Polygon } from '../geometry';

/** Stretches of y, sorted and apart. */
export type Spans = readonly (readonly [from: number, to: number])[];

type Edge = readonly [ax: number, ay: number, bx: number, by: number];

/** Edges are looked up in upright bands of this width, mm. */
const BAND = 25;

/** What two lists of stretches have in common. */
export function common(a: Spans, b: Spans): Spans {
  const [one, other] = [a[0], b[0]];
  if (a.length === 1 && b.length === 1 && one && other) {
    // Most wood is one piece: then nothing is made anew that is there already.
    if (one[0] >= other[0] && one[1] <= other[1]) return a;
    if (other[0] >= one[0] && other[1] <= one[1]) return b;
  }
  const out: [number, number][] = [];
  let [i, j] = [0, 0];
  while (i < a.length && j < b.length) {
    const [p, q] = [a[i] as readonly [number, number], b[j] as readonly [number, number]];
    const [from, to] = [Math.max(p[0], q[0]), Math.min(p[1], q[1])];
    if (to > from) out.push([from, to]);
    if (p[1] < q[1]) i++;
    else j++;
  }
  return out;
}

/** The longest stretch; null where there is none. */
export function longestOf(spans: Spans): readonly [number, number] | null {
  let best: readonly [number, number] | null = null;
  for (const span of spans) if (!best || span[1] - span[0] > best[1] - best[0]) best = span;
  return best;
}

/** Wood with holes, asked for what is free of every edge over upright strips of it. Rings may be pieces and holes alike: in and out in turn. */
export class FreeWood<F extends Frame> {
  readonly #bands: readonly Edge[][];
  readonly minX: number;
  readonly maxX: number;

  constructor(rings: readonly Polygon<F>[]) {
    const box = bounds(rings.flat());
    [this.minX, this.maxX] = [box.minX, box.maxX];
    const bands = Array.from({ length: Math.floor((box.maxX - box.minX) / BAND) + 1 }, (): Edge[] => []);
    for (const ring of rings) {
      ring.forEach((p, i) => {
        const q = ring[(i + 1) % ring.length] as Point<F>;
        const edge: Edge = p[0] <= q[0] ? [p[0], p[1], q[0], q[1]] : [q[0], q[1], p[0], p[1]];
        for (let band = this.#band(edge[0]); band <= this.#band(edge[2]); band++) bands[band]?.push(edge);
      });
    }
    this.#bands = bands;
  }

  #band(x: number): number {
    return Math.floor((x - this.minX) / BAND);
  }

  *#edges(from: number, to: number): Generator<Edge> {
    const first = Math.max(0, this.#band(from));
    for (let band = first; band <= Math.min(this.#bands.length - 1, this.#band(to)); band++)
      for (const edge of this.#bands[band] as Edge[]) {
        // An edge in several bands is met in the first that is asked for.
        if (Math.max(first, this.#band(edge[0])) === band && edge[2] >= from && edge[0] <= to) yield edge;
      }
  }

  /** Stretches of y that are wood, and free of every edge, for all x in [from, to]. */
  over(from: number, to: number): Spans {
    const middle = (from + to) / 2;
    const crossings: number[] = [];
    const blocked: [number, number][] = [];
    for (const [ax, ay, bx, by] of this.#edges(from, to)) {
      const at = (x: number): number => (bx === ax ? ay : ay + ((x - ax) * (by - ay)) / (bx - ax));
      if (ax <= middle && bx > middle) crossings.push(at(middle));
      if (ax === bx) {
        if (ax > from && ax < to) blocked.push(ay < by ? [ay, by] : [by, ay]);
        continue;
      }
      const [y0, y1] = [at(Math.max(from, ax)), at(Math.min(to, bx))];
      // An edge that only touches the strip's side with its end keeps nothing from it.
      if (bx > from && ax < to) blocked.push(y0 < y1 ? [y0, y1] : [y1, y0]);
    }
    crossings.sort((a, b) => a - b);
    blocked.sort((a, b) => a[0] - b[0]);
    const free: [number, number][] = [];
    let k = 0;
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      let start = crossings[i] as number;
      const end = crossings[i + 1] as number;
      // Blocked stretches before this one may still reach into it, so none is passed over for good.
      for (k = 0; k < blocked.length; k++) {
        const [b0, b1] = blocked[k] as [number, number];
        if (b0 >= end) break;
        if (b1 <= start) continue;
        if (b0 > start) free.push([start, b0]);
        start = b1;
      }
      if (end > start) free.push([start, end]);
    }
    return free;
  }
}
