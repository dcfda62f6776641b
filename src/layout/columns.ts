import {
  type Affine,
  apply,
  applyAll,
  bounds,
  invert,
  type Point,
  type Polygon,
  type Region,
  rigid,
  type Segment,
} from '../geometry';
import { type FaceStock, usable } from './stock';

/** A strip that a slab could give on its own: its straight back edge, and the depth of wood in front of it. */
export interface StripPlace {
  readonly stock: FaceStock;
  /** Back edge, `length` long, x of the top running along it. */
  readonly back: Segment<'face'>;
  readonly depth: readonly [least: number, most: number];
  /** Angle of the top's x against the slab's, degrees. */
  readonly degrees: number;
}

export interface StripWish {
  readonly length: number;
  readonly depth: readonly [least: number, most: number];
  readonly front: 'live' | 'straight';
  /** Largest angle against the slab that may be tried, degrees. */
  readonly angle: number;
}

/** Coarse enough to be quick; what is found here is measured again on the exact outline. */
const COLUMN = 10;
const DEGREE_STEP = 0.5;
/** How many places of one slab are worth a closer look. */
const KEPT = 24;

interface Column {
  /** The wood's edge towards the front; NaN where the wood in front is not usable. */
  readonly front: number;
  /** Usable wood, as stretches of y. */
  readonly stretches: readonly (readonly [number, number])[];
}

/** The slab turned so that x runs along the wish, and looked at in upright columns. */
interface TurnedSlab {
  readonly toTurned: Affine<'face', 'top'>;
  readonly degrees: number;
  readonly minX: number;
  readonly columns: readonly Column[];
}

/** Where upright lines `COLUMN` apart from `minX` cross the rings, sorted, edge by edge so that no line looks at every edge. */
function scan(rings: readonly Polygon<'top'>[], minX: number, count: number): number[][] {
  const ys = Array.from({ length: count }, (): number[] => []);
  for (const ring of rings) {
    ring.forEach((q, i) => {
      const p = ring[(i + ring.length - 1) % ring.length] as Point<'top'>;
      const [from, to] = [Math.min(p[0], q[0]), Math.max(p[0], q[0])];
      const first = Math.max(0, Math.ceil((from - minX) / COLUMN));
      for (let k = first; k < count && minX + k * COLUMN < to; k++) {
        const t = (minX + k * COLUMN - p[0]) / (q[0] - p[0]);
        (ys[k] as number[]).push(p[1] + t * (q[1] - p[1]));
      }
    });
  }
  for (const column of ys) column.sort((a, b) => a - b);
  return ys;
}

function turned(stock: FaceStock, wood: readonly Region<'face'>[], degrees: number): TurnedSlab {
  const toTurned = rigid<'face', 'top'>(-degrees, 0, 0);
  const ring = applyAll(toTurned, stock.outline.outer);
  const rings = wood.flatMap(({ outer, holes }) => [outer, ...holes].map((r) => applyAll(toTurned, r)));
  const { minX, maxX } = bounds(ring);
  const count = Math.floor((maxX - minX) / COLUMN) + 1;
  const edges = scan([ring], minX, count);
  // Along a slanting edge the margin, square to the edge, is longer across the column.
  const reach = 3 * stock.margin + 1;
  const columns = scan(rings, minX, count).map((ys, k): Column => {
    const stretches: [number, number][] = [];
    for (let i = 0; i + 1 < ys.length; i += 2) stretches.push([ys[i] as number, ys[i + 1] as number]);
    const edge = edges[k]?.[0];
    const first = stretches[0];
    const open = edge !== undefined && first !== undefined && first[0] - edge <= reach;
    return { front: open ? edge : Number.NaN, stretches };
  });
  return { toTurned, degrees, minX, columns };
}

const common = (
  a: readonly (readonly [number, number])[],
  b: readonly (readonly [number, number])[],
): (readonly [number, number])[] =>
  a.flatMap(([s, e]) =>
    b.flatMap(([t, f]) => (Math.min(e, f) > Math.max(s, t) ? [[Math.max(s, t), Math.min(e, f)] as const] : [])),
  );

/** The window of columns from `start`: where its live edge swings, how far back the wood goes, and which stretches run through it. */
function look(slab: TurnedSlab, start: number, count: number) {
  let [nearest, farthest, end] = [Infinity, -Infinity, Infinity];
  let through = slab.columns[start]?.stretches ?? [];
  for (let i = start; i < start + count; i++) {
    const { front, stretches } = slab.columns[i] as Column;
    nearest = Math.min(nearest, front);
    farthest = Math.max(farthest, front);
    end = Math.min(end, stretches[0]?.[1] ?? -Infinity);
    through = common(through, stretches);
    if (through.length === 0) break;
  }
  return { nearest, farthest, end, through };
}

function* windows(stock: FaceStock, wish: Pick<StripWish, 'length' | 'front' | 'angle'>, avoidDefects: boolean) {
  const wood = avoidDefects ? usable(stock) : stock.inside;
  const count = Math.ceil(wish.length / COLUMN) + 1;
  for (const half of [0, 180]) {
    // A straight strip is the same wood either way round.
    if (half === 180 && wish.front === 'straight') continue;
    for (let d = -wish.angle; d <= wish.angle + 1e-9; d += DEGREE_STEP) {
      const slab = turned(stock, wood, d + half);
      for (let start = 0; start + count <= slab.columns.length; start++)
        yield { slab, start, ...look(slab, start, count) };
    }
  }
}

function backEdge(slab: TurnedSlab, start: number, y: number, length: number): Segment<'face'> {
  const toFace = invert(slab.toTurned);
  const x = slab.minX + start * COLUMN;
  return [apply(toFace, [x, y] as const), apply(toFace, [x + length, y] as const)];
}

/**
 * Places of one slab that give a strip as wished, the calmest live edges first; none where the slab is too small.
 * Depths are to a column's width; frontDepth of strips.ts measures them exactly.
 */
export function stripPlaces(stock: FaceStock, wish: StripWish, avoidDefects = true): StripPlace[] {
  const [least, most] = wish.depth;
  const found: (StripPlace & { readonly start: number; readonly rank: number })[] = [];
  for (const { slab, start, nearest, farthest, end, through } of windows(stock, wish, avoidDefects)) {
    const offer = (y: number, depth: readonly [number, number], rank: number): void => {
      found.push({ stock, back: backEdge(slab, start, y, wish.length), depth, degrees: slab.degrees, start, rank });
    };
    if (wish.front === 'live') {
      const low = farthest + least;
      const high = Math.min(nearest + most, end);
      if (!(low <= high)) continue;
      const y = Math.min(high, Math.max(low, (nearest + farthest + least + most) / 2));
      offer(y, [y - farthest, y - nearest], farthest - nearest);
      continue;
    }
    for (const [s, e] of through) {
      if (e - s < least) continue;
      const depth = Math.min(most, e - s);
      for (const front of new Set([s, (s + e - depth) / 2, e - depth])) offer(front + depth, [depth, depth], -depth);
    }
  }
  found.sort((a, b) => a.rank - b.rank || Math.abs(a.degrees % 180) - Math.abs(b.degrees % 180) || a.start - b.start);
  const kept: typeof found = [];
  for (const place of found) {
    const near = kept.some(
      (k) =>
        k.degrees === place.degrees &&
        Math.abs(k.start - place.start) * COLUMN < 50 &&
        Math.abs(k.back[0][1] - place.back[0][1]) < 20,
    );
    if (!near) kept.push(place);
    if (kept.length === KEPT) break;
  }
  return kept;
}

/** The deepest strip of that length that the slab could give, mm; 0 where it is too short. */
export function deepest(
  stock: FaceStock,
  wish: Pick<StripWish, 'length' | 'front' | 'angle'>,
  avoidDefects: boolean,
): number {
  let best = 0;
  for (const { farthest, end, through } of windows(stock, wish, avoidDefects)) {
    if (wish.front === 'live') best = Math.max(best, end - farthest || 0);
    else for (const [s, e] of through) best = Math.max(best, e - s);
  }
  return best;
}

/** The longest piece, however thin, that the slab could give along itself, mm. */
export function longest(stock: FaceStock): number {
  const inside = stock.inside.flatMap(({ outer }) => outer);
  const { minX, maxX } = bounds(inside.length > 0 ? inside : stock.outline.outer);
  return maxX - minX;
}
