import type { Path64, Point64 } from 'clipper2-ts';

/**
 * Rings of whole numbers made to meet only at corners: a corner is put wherever two edges cross, and an edge that passes a corner within the snap is
 * led through it. Edges that nearly lie on one another then do, and the clipping library (clipper2-ts 2.0.1), which loses corners among such, has
 * nothing left to round. After J. D. Hobby, Practical segment intersection with finite precision output, Computational Geometry 13 (1999).
 */

/** Corners nearer than this to a corner or an edge are on it, units: twice what rounding moves an edge's ends. */
const SNAP = 1.5;
/** Snapping bends edges, which may bring them to others: rounds of it. Few are ever needed. */
const ROUNDS = 8;

interface Edge {
  readonly a: Point64;
  readonly b: Point64;
  readonly minX: number;
  readonly maxX: number;
  readonly minY: number;
  readonly maxY: number;
  /** Corners to be put on it. */
  readonly on: Point64[];
}

/**
 * @param rings closed, their coordinates whole numbers
 * @returns the rings in the same order; one that the snap closes up has no corners left. No edge moves by more than a few units.
 */
export function noded(rings: readonly Path64[]): Path64[] {
  let now = merged(rings);
  for (let round = 0; round < ROUNDS; round++) {
    const edges = now.map(edgesOf);
    const all = edges.flat().sort((p, q) => p.minX - q.minX);
    if (!meet(all)) break;
    now = merged(edges.map((ring) => ring.flatMap(({ a, b, on }) => [a, ...inOrder(a, b, on)])));
  }
  return now;
}

function edgesOf(ring: Path64): Edge[] {
  return ring.map((a, i) => {
    const b = ring[(i + 1) % ring.length] as Point64;
    const [minX, maxX] = [Math.min(a.x, b.x) - SNAP, Math.max(a.x, b.x) + SNAP];
    return { a, b, minX, maxX, minY: Math.min(a.y, b.y) - SNAP, maxY: Math.max(a.y, b.y) + SNAP, on: [] };
  });
}

/** Corners on an edge from `a` on, each once. */
function inOrder(a: Point64, b: Point64, on: readonly Point64[]): Point64[] {
  const along = (p: Point64): number => (p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y);
  return [...on].sort((p, q) => along(p) - along(q));
}

/** Rings whose corners within the snap of one another are one, without steps of no length. */
function merged(rings: readonly Path64[]): Path64[] {
  const cells = new Map<number, Point64>();
  // Two cells of one number would only be looked at in vain.
  const cell = (x: number, y: number) => x * 2 ** 27 + y;
  const one = (p: Point64): Point64 => {
    const [cx, cy] = [Math.floor(p.x / SNAP), Math.floor(p.y / SNAP)];
    for (let dx = -1; dx <= 1; dx++)
      for (let dy = -1; dy <= 1; dy++) {
        const q = cells.get(cell(cx + dx, cy + dy));
        if (q && Math.hypot(q.x - p.x, q.y - p.y) <= SNAP) return q;
      }
    cells.set(cell(cx, cy), p);
    return p;
  };
  return rings.map((ring) => {
    const points = ring.map(one);
    return points.filter((p, i) => p !== points[(i + 1) % points.length]);
  });
}

/** Puts corners on edges that cross or pass one; whether any was put. */
function meet(edges: readonly Edge[]): boolean {
  let any = false;
  for (const [i, e] of edges.entries())
    for (let j = i + 1; j < edges.length; j++) {
      const f = edges[j] as Edge;
      if (f.minX > e.maxX) break;
      if (f.minY > e.maxY || f.maxY < e.minY) continue;
      // All four: an end may lie on the edge whose own end lies on the other.
      const [ea, eb, fa, fb] = [passes(f, e.a), passes(f, e.b), passes(e, f.a), passes(e, f.b)];
      any = ea || eb || fa || fb || crosses(e, f) || any;
    }
  return any;
}

/** Puts a corner on an edge that passes it. */
function passes(edge: Edge, p: Point64): boolean {
  const { a, b, on } = edge;
  if (p === a || p === b) return false;
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const [px, py] = [p.x - a.x, p.y - a.y];
  const square = dx * dx + dy * dy;
  const t = (px * dx + py * dy) / square;
  if (!(t > 0 && t < 1) || Math.abs(px * dy - py * dx) > SNAP * Math.sqrt(square)) return false;
  on.push(p);
  return true;
}

/** Puts a corner on both of two edges where they cross away from their ends. */
function crosses(e: Edge, f: Edge): boolean {
  if (e.a === f.a || e.a === f.b || e.b === f.a || e.b === f.b) return false;
  const [dx, dy, fx, fy] = [e.b.x - e.a.x, e.b.y - e.a.y, f.b.x - f.a.x, f.b.y - f.a.y];
  const across = dx * fy - dy * fx;
  if (across === 0) return false;
  const [ox, oy] = [f.a.x - e.a.x, f.a.y - e.a.y];
  const [t, u] = [(ox * fy - oy * fx) / across, (ox * dy - oy * dx) / across];
  if (!(t > 0 && t < 1 && u > 0 && u < 1)) return false;
  const p = { x: Math.round(e.a.x + t * dx), y: Math.round(e.a.y + t * dy) };
  e.on.push(p);
  f.on.push(p);
  return true;
}
