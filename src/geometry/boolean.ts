import { Clipper, ClipType, EndType, FillRule, JoinType, type Path64, type Paths64 } from 'clipper2-ts';
import type { Bounds, Frame, Polygon, Region } from './frame';
import { noded } from './noding';
import { bounds, contains } from './polygon';

/**
 * Booleans and offsets of regions over a clipping library with whole-number coordinates: one unit is a micrometre,
 * so what comes back is true to 0.001 mm. Regions may touch, overlap or cross themselves: they are united first.
 */
const UNITS_PER_MM = 1000;

const toPath = (ring: Polygon<Frame>): Path64 =>
  withoutSpurs(ring.map(([x, y]) => ({ x: Math.round(x * UNITS_PER_MM), y: Math.round(y * UNITS_PER_MM) })));

/**
 * The ring without spurs that run out and back on one line. They hold no area, and the clipping library (clipper2-ts 2.0.1) loops until
 * memory runs out on some of them.
 */
function withoutSpurs(ring: Path64): Path64 {
  let path = ring;
  for (;;) {
    const kept: Path64 = [];
    for (const point of path) {
      kept.push(point);
      while (kept.length > 2 && isSpur(kept.at(-3) as Vertex, kept.at(-2) as Vertex, kept.at(-1) as Vertex))
        kept.splice(-2, 1);
    }
    // A spur may lie across the ring's first point.
    while (kept.length > 2 && isSpur(kept.at(-2) as Vertex, kept.at(-1) as Vertex, kept[0] as Vertex)) kept.pop();
    while (kept.length > 2 && isSpur(kept.at(-1) as Vertex, kept[0] as Vertex, kept[1] as Vertex)) kept.shift();
    if (kept.length === path.length) return kept;
    path = kept;
  }
}

type Vertex = Path64[number];

/** Whether the way turns straight back at `b`, or stands still there. */
function isSpur(a: Vertex, b: Vertex, c: Vertex): boolean {
  const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
  return ux * vy - uy * vx === 0 && ux * vx + uy * vy <= 0;
}

function toPaths(regions: readonly Region<Frame>[]): Paths64 {
  // Even-odd within one region lets a hole have either winding; the union over regions is then non-zero.
  const united: Paths64 = [];
  for (const { outer, holes } of regions) {
    if (holes.length === 0) {
      united.push(...Clipper.union([toPath(outer)], FillRule.NonZero));
      continue;
    }
    const body = Clipper.union([toPath(outer)], FillRule.NonZero);
    const gaps = Clipper.union(holes.map(toPath).map(turnedPositive), FillRule.NonZero);
    united.push(...Clipper.difference(body, gaps, FillRule.NonZero));
  }
  return united;
}

const turnedPositive = (path: Path64): Path64 => (Clipper.area(path) < 0 ? [...path].reverse() : path);

const toRing = (path: Path64): Polygon<Frame> => path.map(({ x, y }) => [x / UNITS_PER_MM, y / UNITS_PER_MM] as const);

/** How much of a ring lies in another: its corners and the middles of its edges that do. */
function heldIn(ring: Polygon<Frame>, outer: Polygon<Frame>): number {
  return ring.reduce((count, p, i) => {
    const q = ring[(i + 1) % ring.length] as Polygon<Frame>[number];
    const middle = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2] as const;
    return count + Number(contains(outer, p)) + Number(contains(outer, middle));
  }, 0);
}

const boxesMeet = (p: Bounds, q: Bounds): boolean =>
  p.minX <= q.maxX && q.minX <= p.maxX && p.minY <= q.maxY && q.minY <= p.maxY;

/**
 * Rings as regions by the way they turn: pieces one way, holes the other, each hole in the smallest piece that holds most of it. The clipping library's
 * own tree (clipper2-ts 2.0.1) makes a piece of a hole that touches the edge around it.
 */
function toRegions(paths: Paths64): Region<Frame>[] {
  const rings = paths.map((path) => ({ ring: toRing(path), area: Clipper.area(path) }));
  const pieces = rings
    .filter(({ area }) => area > 0)
    .map(({ ring, area }) => ({ area, outer: ring, box: bounds(ring), holes: [] as Polygon<Frame>[] }));
  for (const { ring } of rings.filter(({ area }) => area < 0)) {
    const box = bounds(ring);
    const near = pieces.filter((piece) => boxesMeet(piece.box, box));
    // Where one piece alone is near it is its own; to count how much of it lies there takes longer than to clip.
    const held = near.map((piece) => ({
      piece,
      share: near.length === 1 ? 1 : heldIn(ring, piece.outer) / (2 * ring.length),
    }));
    const most = Math.max(...held.map(({ share }) => share), 0);
    const around = held.filter(({ share }) => share >= Math.min(most, 0.5)).map(({ piece }) => piece);
    around.reduce<(typeof around)[0] | null>((a, b) => (a && a.area <= b.area ? a : b), null)?.holes.push(ring);
  }
  return pieces.map(({ outer, holes }) => ({ outer, holes }));
}

function combine(kind: ClipType, subject: readonly Region<Frame>[], clip: readonly Region<Frame>[]): Region<Frame>[] {
  const [a, b] = [toPaths(subject), toPaths(clip)];
  // An edge that snapping laid on another may run back on itself.
  const all = noded([...a, ...b]).map(withoutSpurs);
  return toRegions(Clipper.booleanOp(kind, all.slice(0, a.length), all.slice(a.length), FillRule.NonZero));
}

/** All that is in any of the regions. */
export function union<F extends Frame>(regions: readonly Region<F>[]): Region<F>[] {
  return combine(ClipType.Union, regions, []) as Region<F>[];
}

/** What is in some region of `a` and in some region of `b`. */
export function intersection<F extends Frame>(a: readonly Region<F>[], b: readonly Region<F>[]): Region<F>[] {
  return combine(ClipType.Intersection, a, b) as Region<F>[];
}

/** What is in some region of `a` and in none of `b`. */
export function difference<F extends Frame>(a: readonly Region<F>[], b: readonly Region<F>[]): Region<F>[] {
  return combine(ClipType.Difference, a, b) as Region<F>[];
}

/**
 * Regions grown by `by` mm (shrunk when negative): `round` corners keep every point of the new edge at that distance,
 * `mitre` keeps straight corners straight. A region narrower than twice the shrinking vanishes.
 */
export function offset<F extends Frame>(
  regions: readonly Region<F>[],
  by: number,
  corners: 'round' | 'mitre' = 'round',
): Region<F>[] {
  const join = corners === 'round' ? JoinType.Round : JoinType.Miter;
  const paths = Clipper.inflatePaths(
    Clipper.union(toPaths(regions), FillRule.NonZero),
    by * UNITS_PER_MM,
    join,
    EndType.Polygon,
    4,
    0.01 * UNITS_PER_MM,
  );
  return toRegions(Clipper.union(paths, FillRule.NonZero)) as Region<F>[];
}
