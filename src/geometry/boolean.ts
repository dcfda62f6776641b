import { Clipper, ClipType, EndType, FillRule, JoinType, type Path64, type Paths64, PolyTree64 } from 'clipper2-ts';
import type { Frame, Polygon, Region } from './frame';

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

function fromTree(tree: PolyTree64): Region<Frame>[] {
  const regions: Region<Frame>[] = [];
  const toRing = (path: Path64 | null): Polygon<Frame> =>
    (path ?? []).map(({ x, y }) => [x / UNITS_PER_MM, y / UNITS_PER_MM] as const);
  const walk = (node: PolyTree64): void => {
    for (let i = 0; i < node.count; i++) {
      const outer = node.child(i) as PolyTree64;
      const holes: Polygon<Frame>[] = [];
      for (let j = 0; j < outer.count; j++) {
        const hole = outer.child(j) as PolyTree64;
        holes.push(toRing(hole.poly));
        walk(hole);
      }
      regions.push({ outer: toRing(outer.poly), holes });
    }
  };
  walk(tree);
  return regions;
}

function combine(kind: ClipType, subject: readonly Region<Frame>[], clip: readonly Region<Frame>[]): Region<Frame>[] {
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(kind, toPaths(subject), toPaths(clip), tree, FillRule.NonZero);
  return fromTree(tree);
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
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(ClipType.Union, paths, [], tree, FillRule.NonZero);
  return fromTree(tree) as Region<F>[];
}
