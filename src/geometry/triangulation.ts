import Delaunator from 'delaunator';
import type { Frame, Point } from './frame';

type At = Point<Frame>;

/** Indices of the points at a triangle's corners. */
export type Triangle = readonly [number, number, number];

export interface Triangulation {
  readonly triangles: readonly Triangle[];
  /** Every edge once. */
  readonly edges: readonly (readonly [number, number])[];
  /** The edges at the rim: the hull, or for points on one line the pieces between neighbours. */
  readonly rim: readonly (readonly [number, number])[];
}

/**
 * Triangles whose altitude is less than this share of their longest side are rounding, not surface: they would tie a reading on the rim
 * to none of its neighbours.
 */
const SLIVER = 1e-9;
/** Four points lie on one circle when the sine of the sum of two opposite angles is smaller than this. */
const COCIRCULAR = 1e-9;

/**
 * Delaunay's triangulation of distinct points, made unique: where four or more points lie on one circle, the diagonals start from
 * the point with the least x + y (of those the least x). Points on one line give no triangles and a rim that is the line.
 */
export function triangulate(points: readonly At[]): Triangulation {
  const centre = points[0] ?? [0, 0];
  const coordinates = new Float64Array(points.flatMap(([x, y]) => [x - centre[0], y - centre[1]]));
  const raw = new Delaunator(coordinates).triangles;
  const mesh = new Mesh(points);
  for (let k = 0; k < raw.length; k += 3) mesh.add([raw[k] as number, raw[k + 1] as number, raw[k + 2] as number]);
  mesh.peel();
  mesh.settleTies();
  const { triangles, edges, rim } = mesh;
  return triangles.length > 0 ? { triangles, edges, rim } : alongLine(points);
}

function alongLine(points: readonly At[]): Triangulation {
  const order = [...points.keys()].sort((i, j) => {
    const [p, q] = [points[i] as At, points[j] as At];
    return p[0] - q[0] || p[1] - q[1];
  });
  const rim = order.slice(1).map((j, k) => [order[k] as number, j] as const);
  return { triangles: [], edges: rim, rim };
}

const cross = (o: At, p: At, q: At): number => (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0]);
const dot = (o: At, p: At, q: At): number => (p[0] - o[0]) * (q[0] - o[0]) + (p[1] - o[1]) * (q[1] - o[1]);
const key = (i: number, j: number): number => i * 2 ** 26 + j;

/** Triangles with one turning sense, found by the directed edges that bound them. */
class Mesh {
  readonly #points: readonly At[];
  /** Directed edge -> its triangle's third corner. */
  readonly #apex = new Map<number, number>();

  constructor(points: readonly At[]) {
    this.#points = points;
  }

  add([a, b, c]: Triangle): void {
    this.#apex.set(key(a, b), c).set(key(b, c), a).set(key(c, a), b);
  }

  #remove(a: number, b: number, c: number): void {
    this.#apex.delete(key(a, b));
    this.#apex.delete(key(b, c));
    this.#apex.delete(key(c, a));
  }

  *#directed(): Generator<readonly [a: number, b: number, apex: number]> {
    for (const [edge, apex] of this.#apex) yield [Math.floor(edge / 2 ** 26), edge % 2 ** 26, apex];
  }

  get triangles(): Triangle[] {
    return [...this.#directed()].filter(([a, b, c]) => a < b && a < c);
  }

  get edges(): (readonly [number, number])[] {
    return [...this.#directed()].flatMap(([a, b]) => (a < b || !this.#apex.has(key(b, a)) ? [[a, b] as const] : []));
  }

  get rim(): (readonly [number, number])[] {
    return [...this.#directed()].flatMap(([a, b]) => (this.#apex.has(key(b, a)) ? [] : [[a, b] as const]));
  }

  /** Takes slivers off the rim, until a triangle of real area stands behind every edge of it. */
  peel(): void {
    const rim = this.rim.map(([a, b]) => [a, b] as const);
    for (let edge = rim.pop(); edge; edge = rim.pop()) {
      const [a, b] = edge;
      const c = this.#apex.get(key(a, b));
      if (c === undefined || this.#apex.has(key(b, a))) continue;
      const [p, q, r] = [a, b, c].map((i) => this.#points[i] as At) as [At, At, At];
      const length2 = dot(p, q, q);
      const between = dot(p, q, r) > 0 && dot(q, p, r) > 0;
      if (!between || Math.abs(cross(p, q, r)) > SLIVER * length2) continue;
      this.#remove(a, b, c);
      rim.push([c, b], [a, c]);
    }
  }

  /** Whether the triangles on both sides of an edge have one circumcircle. */
  #tied(a: number, b: number, c: number): boolean {
    const d = this.#apex.get(key(b, a));
    if (d === undefined) return false;
    const [p, q, r, s] = [a, b, c, d].map((i) => this.#points[i] as At) as [At, At, At, At];
    const [sinC, cosC, sinD, cosD] = [cross(r, p, q), dot(r, p, q), cross(s, q, p), dot(s, q, p)];
    const scale = Math.hypot(sinC, cosC) * Math.hypot(sinD, cosD);
    return Math.abs(sinC * cosD + cosC * sinD) < COCIRCULAR * scale;
  }

  /** Re-cuts every cell of points on one circle into a fan from its point with the least x + y. */
  settleTies(): void {
    const seen = new Set<number>();
    for (const [a, b, c] of this.triangles) {
      if (seen.has(key(a, b))) continue;
      const cell: Triangle[] = [];
      const ring = new Map<number, number>();
      const open: Triangle[] = [[a, b, c]];
      for (let next = open.pop(); next; next = open.pop()) {
        const [i, j, k] = next;
        if (seen.has(key(i, j))) continue;
        cell.push(next);
        for (const [from, to, apex] of [
          [i, j, k],
          [j, k, i],
          [k, i, j],
        ] as const) {
          seen.add(key(from, to));
          const beyond = this.#apex.get(key(to, from));
          if (beyond !== undefined && this.#tied(from, to, apex)) open.push([to, from, beyond]);
          else ring.set(from, to);
        }
      }
      if (cell.length > 1) this.#fan(cell, ring);
    }
  }

  #fan(cell: readonly Triangle[], ring: ReadonlyMap<number, number>): void {
    for (const triangle of cell) this.#remove(...triangle);
    const first = [...ring.keys()].reduce((least, i) => {
      const [p, q] = [this.#points[least] as At, this.#points[i] as At];
      const further = q[0] + q[1] - p[0] - p[1];
      return further < 0 || (further === 0 && q[0] < p[0]) ? i : least;
    });
    let from = ring.get(first) as number;
    for (let to = ring.get(from) as number; to !== first; to = ring.get(from) as number) {
      this.add([first, from, to]);
      from = to;
    }
  }
}
