import { bounds, distance, offset, type Point, type Polygon, type Region, ringArea, union } from '../geometry';
import { type Grid, maskOf } from '../raster';
import type { TraceOptions } from './trace-types';

/** What the marks and strokes say about where the wood is, as masks over a grid. */

/** Half the width of a stroke drawn by hand, mm. */
const STROKE = 8;
/** Wood taken for granted around a sheet or rod that lies on it, mm. */
const AROUND = 45;
/** Share of the marks' hull, about its middle, that is taken for wood: the rest may lie over an edge. */
const CORE = 0.8;
/** Marks all within this of each other, mm, may be corners of one sheet: A3 is 514 mm from corner to corner. */
const SHEET = 520;
/** A hull thinner than this against its length tells nothing of the width: rods, a single sheet. */
const FAT = 0.08;

/** Strokes of one kind, as wide as they are drawn. */
export function strokeMask(grid: Grid, hints: TraceOptions, kind: 'wood' | 'not wood'): Uint8Array {
  return maskOf(grid, ribbons(hints, kind, STROKE));
}

/** Strokes of one kind as areas, `half` mm to either side of the line. */
export const ribbons = (
  { strokes = [] }: Pick<TraceOptions, 'strokes'>,
  kind: 'wood' | 'not wood',
  half: number,
): Region<'face'>[] =>
  strokes
    .filter((s) => s.kind === kind)
    .flatMap(({ line }) => line.slice(1).map((q, i) => ribbon(line[i] as Point<'face'>, q, half)));

/** Things laid on the wood or beside it. `by`: how much wider than they are, mm. */
export function laidMask(grid: Grid, { laid = [] }: TraceOptions, which: 'all' | 'beside', by = 0): Uint8Array {
  const rings = laid.filter(({ onWood }) => which === 'all' || !onWood).map(({ polygon }) => solid(polygon));
  return maskOf(grid, by > 0 && rings.length > 0 ? offset(rings, by) : rings);
}

/** Where wood is taken for granted before any colour is looked at: within the marks, or around what lies on the wood, and under strokes. */
export function seedMask(grid: Grid, hints: TraceOptions): Uint8Array {
  const laid = (hints.laid ?? []).filter(({ onWood }) => onWood);
  const hull = convexHull([...(hints.laid ?? []).flatMap(({ polygon }) => polygon), ...(hints.points ?? [])]);
  const regions: Region<'face'>[] = [];
  const several = (hints.laid ?? []).length + (hints.points ?? []).length > 2;
  if (several && isFat(hull)) {
    // Points close together may be the corners of one sheet, which is all that is seen within them.
    regions.push(...(isNarrow(hull) ? offset([solid(hull)], AROUND) : [solid(scaled(hull, CORE))]));
  } else if (laid.length > 0)
    regions.push(
      ...offset(
        laid.map(({ polygon }) => solid(polygon)),
        AROUND,
      ),
    );
  const seeds = maskOf(grid, union(regions));
  const drawn = strokeMask(grid, hints, 'wood');
  if (regions.length === 0 && !drawn.includes(1)) seeds.set(maskOf(grid, [solid(middle(grid))]));
  const off = laidMask(grid, hints, 'all');
  return seeds.map((v, i) => (drawn[i] || (v && !off[i]) ? 1 : 0));
}

const solid = (outer: Polygon<'face'>): Region<'face'> => ({ outer, holes: [] });

/** A photo of a slab has it in the middle: the middle third each way. */
function middle({ x0, y0, width, height, mmPerPx }: Grid): Polygon<'face'> {
  const [w, h] = [width * mmPerPx, height * mmPerPx];
  return scaled(
    [
      [x0, y0],
      [x0 + w, y0],
      [x0 + w, y0 + h],
      [x0, y0 + h],
    ],
    1 / 3,
  );
}

function isFat(hull: Polygon<'face'>): boolean {
  if (hull.length < 3) return false;
  const length = Math.max(...hull.map((p) => distance(p, hull[0] as Point<'face'>)));
  return ringArea(hull) > FAT * length * length;
}

function isNarrow(hull: Polygon<'face'>): boolean {
  const { minX, minY, maxX, maxY } = bounds(hull);
  return Math.hypot(maxX - minX, maxY - minY) < SHEET;
}

function scaled(ring: Polygon<'face'>, by: number): Polygon<'face'> {
  const x = ring.reduce((sum, p) => sum + p[0], 0) / ring.length;
  const y = ring.reduce((sum, p) => sum + p[1], 0) / ring.length;
  return ring.map((p) => [x + (p[0] - x) * by, y + (p[1] - y) * by]);
}

function ribbon(p: Point<'face'>, q: Point<'face'>, half: number): Region<'face'> {
  const length = distance(p, q) || 1;
  const [ux, uy] = [((q[0] - p[0]) / length) * half, ((q[1] - p[1]) / length) * half];
  return solid([
    [p[0] - ux - uy, p[1] - uy + ux],
    [p[0] - ux + uy, p[1] - uy - ux],
    [q[0] + ux + uy, q[1] + uy - ux],
    [q[0] + ux - uy, q[1] + uy + ux],
  ]);
}

/** Smallest convex ring around points (Andrew 1979). */
export function convexHull(points: readonly Point<'face'>[]): Polygon<'face'> {
  const sorted = [...points].sort((p, q) => p[0] - q[0] || p[1] - q[1]);
  const half = (list: readonly Point<'face'>[]): Point<'face'>[] => {
    const chain: Point<'face'>[] = [];
    for (const p of list) {
      while (chain.length > 1 && turn(chain.at(-2) as Point<'face'>, chain.at(-1) as Point<'face'>, p) <= 0)
        chain.pop();
      chain.push(p);
    }
    return chain.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

const turn = (o: Point<'face'>, a: Point<'face'>, b: Point<'face'>): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
