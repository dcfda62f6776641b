import {
  type Affine,
  apply,
  applyAll,
  bounds,
  difference,
  invert,
  type Point,
  type Polygon,
  type Region,
  rigid,
  type Segment,
} from '../geometry';
import { SWING_WITHIN } from '../job';
import { common } from './free-spans';
import { swingsOver } from './live-edge';
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
  /** Largest angle against the slab that may be tried, degrees, to either side of `turn`. */
  readonly angle: number;
  /** The angle against the slab in the middle of those tried, where that is not 0, degrees. */
  readonly turn?: number;
  /** Ends of the strip from which the slab's own end must lie within this, mm: right where x begins, left where it ends. */
  readonly ends?: { readonly right?: number; readonly left?: number };
  /** Most that a live front may swing within `SWING_WITHIN`, mm. */
  readonly swing?: number | null;
  /** Sapwood that should show in it; left out where nobody asks for that. */
  readonly sapwood?: readonly Region<'face'>[];
}

/** Coarse enough to be quick; what is found here is measured again on the exact outline. */
const COLUMN = 10;
const DEGREE_STEP = 0.5;
/** How many places of one slab are worth a closer look. */
const KEPT = 24;

type Stretches = readonly (readonly [from: number, to: number])[];

interface Column {
  /** The wood's edge towards the front; NaN where the wood in front is not usable. */
  readonly front: number;
  /** Usable wood, as stretches of y. */
  readonly stretches: Stretches;
  /** Sapwood that should show. */
  readonly sapwood: Stretches;
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

/** The same lines' stretches inside regions. */
function stretchesIn(
  regions: readonly Region<'face'>[],
  toTurned: Affine<'face', 'top'>,
  minX: number,
  count: number,
): Stretches[] {
  const rings = regions.flatMap(({ outer, holes }) => [outer, ...holes].map((ring) => applyAll(toTurned, ring)));
  return scan(rings, minX, count).map((ys) => {
    const stretches: [number, number][] = [];
    for (let i = 0; i + 1 < ys.length; i += 2) stretches.push([ys[i] as number, ys[i + 1] as number]);
    return stretches;
  });
}

function turned(
  stock: FaceStock,
  wood: readonly Region<'face'>[],
  sapwood: readonly Region<'face'>[],
  degrees: number,
): TurnedSlab {
  const toTurned = rigid<'face', 'top'>(-degrees, 0, 0);
  const ring = applyAll(toTurned, stock.outline.outer);
  const { minX, maxX } = bounds(ring);
  const count = Math.floor((maxX - minX) / COLUMN) + 1;
  const edges = scan([ring], minX, count);
  // Along a slanting edge the margin, square to the edge, is longer across the column.
  const reach = 3 * stock.margin + 1;
  const wanted = stretchesIn(sapwood, toTurned, minX, count);
  const columns = stretchesIn(wood, toTurned, minX, count).map((stretches, k): Column => {
    const edge = edges[k]?.[0];
    const first = stretches[0];
    const open = edge !== undefined && first !== undefined && first[0] - edge <= reach;
    return { front: open ? edge : Number.NaN, stretches, sapwood: wanted[k] ?? [] };
  });
  return { toTurned, degrees, minX, columns };
}

/** Share of a strip's columns in which sapwood lies between its front and its back. */
function sapwoodShown({ columns }: TurnedSlab, start: number, count: number, from: number, to: number): number {
  let shown = 0;
  for (let i = start; i < start + count; i++) if (columns[i]?.sapwood.some(([s, e]) => s < to && e > from)) shown++;
  return shown / count;
}

/** What a run of columns comes to: where its live edge swings, how far back the wood goes, and which stretches run through it. */
interface Run {
  readonly nearest: number;
  readonly farthest: number;
  readonly end: number;
  readonly through: Stretches;
}

const runOf = ({ front, stretches }: Column): Run => ({
  nearest: front,
  farthest: front,
  end: stretches[0]?.[1] ?? -Infinity,
  through: stretches,
});

const joined = (a: Run, b: Run): Run => ({
  nearest: Math.min(a.nearest, b.nearest),
  farthest: Math.max(a.farthest, b.farthest),
  end: Math.min(a.end, b.end),
  through: common(a.through, b.through),
});

/**
 * Every run of `count` columns, by where it starts. Each is put together from the end of one block and the beginning of the next, so that
 * a slab costs its columns once, however long the runs (van Herk 1992).
 */
function runsOf(columns: readonly Column[], count: number): Run[] {
  const single = columns.map(runOf);
  const [upTo, from] = [[...single], [...single]];
  for (let i = 1; i < single.length; i++) if (i % count !== 0) upTo[i] = joined(upTo[i - 1] as Run, single[i] as Run);
  for (let i = single.length - 2; i >= 0; i--)
    if ((i + 1) % count !== 0) from[i] = joined(single[i] as Run, from[i + 1] as Run);
  return single
    .slice(0, Math.max(0, single.length - count + 1))
    .map((_, i) =>
      i % count === 0 ? (upTo[i + count - 1] as Run) : joined(from[i] as Run, upTo[i + count - 1] as Run),
    );
}

/** Runs of a turned slab by their length in columns: strips of many depths are looked for in the same few. Nothing outlives its slab. */
const knownRuns = new WeakMap<TurnedSlab, Map<number, Run[]>>();

function runsOnce(slab: TurnedSlab, count: number): Run[] {
  const own = knownRuns.get(slab) ?? new Map<number, Run[]>();
  knownRuns.set(slab, own);
  const runs = own.get(count) ?? runsOf(slab.columns, count);
  own.set(count, runs);
  return runs;
}

/** Slabs that were turned, by face: every top looks at the same few. Nothing outlives its face. */
const known = new WeakMap<FaceStock, Map<string, TurnedSlab>>();

/** A slab turned once for all that ask. */
function turnedOnce(
  stock: FaceStock,
  wood: () => readonly Region<'face'>[],
  avoidDefects: boolean,
  sapwood: StripWish['sapwood'],
  degrees: number,
): TurnedSlab {
  if (sapwood) return turned(stock, wood(), sapwood, degrees);
  const own = known.get(stock) ?? new Map<string, TurnedSlab>();
  known.set(stock, own);
  const key = `${avoidDefects} ${degrees}`;
  const slab = own.get(key) ?? turned(stock, wood(), [], degrees);
  own.set(key, slab);
  return slab;
}

/** So many steps of the angle are tried to either side at the most, where the grain may run far off. */
const STEPS = 12;

/** Angles against the slab to be tried, degrees. */
export function anglesOf({ angle, turn = 0 }: Pick<StripWish, 'angle' | 'turn'>): number[] {
  const step = Math.max(DEGREE_STEP, angle / STEPS);
  const count = Math.floor(angle / step + 1e-9);
  return Array.from({ length: 2 * count + 1 }, (_, i) => turn + (i - count) * step);
}

/** Whether a live edge swings too much for what is wished, as far as columns tell. */
function tooWavy(
  { columns }: TurnedSlab,
  start: number,
  { nearest, farthest }: Run,
  { length, front, swing }: Pick<StripWish, 'length' | 'front' | 'swing'>,
): boolean {
  if (front === 'straight' || swing === undefined || swing === null || farthest - nearest <= swing) return false;
  const within = columns.slice(start, start + Math.floor(length / COLUMN) + 1).map((column) => column.front);
  return swingsOver(within, Math.floor(SWING_WITHIN / COLUMN), swing);
}

function* windows(
  stock: FaceStock,
  wish: Pick<StripWish, 'length' | 'front' | 'angle' | 'turn' | 'ends' | 'swing' | 'sapwood'>,
  avoidDefects: boolean,
) {
  let found: readonly Region<'face'>[] | null = null;
  const wood = () => (found ??= avoidDefects ? usable(stock) : stock.inside);
  const count = Math.ceil(wish.length / COLUMN) + 1;
  for (const half of [0, 180]) {
    // A straight strip is the same wood either way round.
    if (half === 180 && wish.front === 'straight' && !wish.ends) continue;
    for (const d of anglesOf(wish)) {
      const slab = turnedOnce(stock, wood, avoidDefects, wish.sapwood, d + half);
      const last = slab.columns.length - count;
      const { right = Infinity, left = Infinity } = wish.ends ?? {};
      for (const [start, run] of runsOnce(slab, count).entries()) {
        if (start * COLUMN > right || (last - start) * COLUMN > left) continue;
        if (!tooWavy(slab, start, run, wish)) yield { slab, start, ...run };
      }
    }
  }
}

function backEdge(slab: TurnedSlab, start: number, y: number, length: number): Segment<'face'> {
  const toFace = invert(slab.toTurned);
  const x = slab.minX + start * COLUMN;
  return [apply(toFace, [x, y] as const), apply(toFace, [x + length, y] as const)];
}

interface Found extends StripPlace {
  readonly start: number;
  /** Less is better: how much a live edge swings, or minus the depth. */
  readonly rank: number;
  /** Share of the length over which wanted sapwood shows. */
  readonly shown: number;
}

const byShape = (a: Found, b: Found): number =>
  a.rank - b.rank || Math.abs(a.degrees % 180) - Math.abs(b.degrees % 180) || a.start - b.start;

/** The first of a ranking, none near to one before it. */
function apart(ranked: readonly Found[], most: number): Found[] {
  const kept: Found[] = [];
  for (const place of ranked) {
    const near = kept.some(
      (k) =>
        k.degrees === place.degrees &&
        Math.abs(k.start - place.start) * COLUMN < 50 &&
        Math.abs(k.back[0][1] - place.back[0][1]) < 20,
    );
    if (!near) kept.push(place);
    if (kept.length === most) break;
  }
  return kept;
}

/**
 * Places of one slab that give a strip as wished, the calmest live edges first, and in turn with them, where sapwood should show, those that
 * show the most; none where the slab is too small. Depths are to a column's width; frontDepth of strips.ts measures them exactly.
 */
export function stripPlaces(stock: FaceStock, wish: StripWish, avoidDefects = true): StripPlace[] {
  const [least, most] = wish.depth;
  const count = Math.ceil(wish.length / COLUMN) + 1;
  const wanted = wish.sapwood !== undefined && wish.sapwood.length > 0;
  const found: Found[] = [];
  for (const { slab, start, nearest, farthest, end, through } of windows(stock, wish, avoidDefects)) {
    const offer = (y: number, depth: readonly [number, number], rank: number): void => {
      const shown = wanted ? sapwoodShown(slab, start, count, y - depth[1], y) : 0;
      const back = backEdge(slab, start, y, wish.length);
      found.push({ stock, back, depth, degrees: slab.degrees, start, rank, shown });
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
  found.sort(byShape);
  if (!wanted) return apart(found, KEPT);
  const shows = apart(
    [...found].sort((a, b) => b.shown - a.shown || byShape(a, b)),
    KEPT / 2,
  );
  const fits = apart(found, KEPT / 2);
  return fits.flatMap((place, i) => [shows[i] ?? place, place]);
}

/** The deepest strip of that length that the slab could give, mm; 0 where it is too short. */
export function deepest(
  stock: FaceStock,
  wish: Pick<StripWish, 'length' | 'front' | 'angle' | 'swing'>,
  avoidDefects: boolean,
): number {
  let best = 0;
  for (const { farthest, end, through } of windows(stock, wish, avoidDefects)) {
    if (wish.front === 'live') best = Math.max(best, end - farthest || 0);
    else for (const [s, e] of through) best = Math.max(best, e - s);
  }
  return best;
}

/** The least that a live edge swings over a strip of that length which is `least` deep all along, mm; null where no strip is. */
export function calmestFront(
  stock: FaceStock,
  wish: Pick<StripWish, 'length' | 'angle'> & { readonly least: number },
  avoidDefects: boolean,
): number | null {
  let calmest: number | null = null;
  for (const { nearest, farthest, end } of windows(stock, { ...wish, front: 'live' }, avoidDefects)) {
    if (!(end - farthest >= wish.least)) continue;
    calmest = Math.min(calmest ?? Infinity, farthest - nearest);
  }
  return calmest;
}

/** The most that a face gives over a length, mm; 0 where it gives none. */
export interface MostDepths {
  /** In front of one straight back edge, to the wood's own edge. */
  readonly live: number;
  /** In one straight strip. */
  readonly straight: number;
  /** In all straight strips that lie side by side, none narrower than asked. */
  readonly together: number;
}

/** Depths of the best windows, to a column's width and half a step of the angle. @param least strips narrower than this do not count, mm */
export function mostDepths(
  stock: FaceStock,
  { length, angle, turn = 0, least }: Pick<StripWish, 'length' | 'angle' | 'turn'> & { readonly least: number },
  avoidDefects: boolean,
): MostDepths {
  let [live, straight, together] = [0, 0, 0];
  for (const { farthest, end, through } of windows(stock, { length, front: 'live', angle, turn }, avoidDefects)) {
    live = Math.max(live, end - farthest || 0);
    let all = 0;
    for (const [s, e] of through) {
      straight = Math.max(straight, e - s);
      if (e - s >= least) all += e - s;
    }
    together = Math.max(together, all);
  }
  return { live, straight, together };
}

/** The widest that a face is over a length: the wood across it at the narrowest column of its best window, what must be kept off left out. mm */
export function mostAcross(stock: FaceStock, length: number, avoidDefects: boolean): number {
  const wood = avoidDefects ? difference([stock.outline], stock.forbidden) : [stock.outline];
  const { minX, maxX } = bounds(stock.outline.outer);
  const columns = stretchesIn(wood, rigid<'face', 'top'>(0, 0, 0), minX, Math.floor((maxX - minX) / COLUMN) + 1);
  const across = columns.map((stretches) => stretches.reduce((sum, [s, e]) => sum + e - s, 0));
  const count = Math.max(1, Math.ceil(length / COLUMN) + 1);
  let most = 0;
  for (let i = 0; i + count <= across.length; i++) most = Math.max(most, Math.min(...across.slice(i, i + count)));
  return most;
}

/** The longest piece, however thin, that the slab could give along itself, mm. */
export function longest(stock: FaceStock): number {
  const inside = stock.inside.flatMap(({ outer }) => outer);
  const { minX, maxX } = bounds(inside.length > 0 ? inside : stock.outline.outer);
  return maxX - minX;
}
