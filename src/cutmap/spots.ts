import { crossingsAtX, type Point, type Polygon, type Region, regionContains, type Segment } from '../geometry';
import { type Datum, tapedError } from './datum';

/**
 * Which points of a cut line are marked on the slab: two a line, where the tapes cross well and far enough apart that the line
 * between them is true at both ends. Lines share a point where they cross on wood, so a blank needs few numbers.
 */

/** A point to be found on the slab. */
export interface Spot {
  readonly number: number;
  readonly at: Point<'face'>;
  /** Numbers of the cuts that go through it. */
  readonly cuts: readonly number[];
}

interface Line {
  readonly number: number;
  readonly line: Segment<'face'>;
}

/** A mark keeps this far inside the wood's edge, so that a chalk cross has wood around it (mm). */
const INSIDE = 8;
const TRIALS = 24;
/** A rough line may stray by this much (one standard deviation, mm): it is kept 10 mm wide. So far a shared point is as good as a better one. */
const ROUGH_SIGMA = 2.5;

/** Points for each line in turn, numbered from 1; a line with no wood under it gets none. */
export function spotsOf(lines: readonly Line[], outline: Region<'face'>, datum: Datum): Spot[] {
  const spans = lines.map(({ line }) => onWood(line, outline));
  const spots: { at: Point<'face'>; cuts: number[] }[] = [];
  lines.forEach(({ number }, i) => {
    const span = spans[i];
    if (!span) return;
    const shared = [...spots.map((spot) => spot.at).filter((p) => offLine(span, p) < 0.01), ...crossings(i, spans)];
    const best = bestPair(span, shared, datum);
    for (const at of best) {
      const known = spots.find((spot) => Math.hypot(spot.at[0] - at[0], spot.at[1] - at[1]) < 0.01);
      if (known) known.cuts.push(number);
      else spots.push({ at, cuts: [number] });
    }
  });
  return spots.map((spot, i) => ({ ...spot, number: i + 1 }));
}

/** The two points by which one line is marked; null where it has no wood under it. */
export function pairOn(
  line: Segment<'face'>,
  outline: Region<'face'>,
  datum: Datum,
): [Point<'face'>, Point<'face'>] | null {
  const span = onWood(line, outline);
  return span && bestPair(span, [], datum);
}

/** The part of a line that lies on wood, kept clear of the edge: from its first to its last such point. */
export function onWood(line: Segment<'face'>, outline: Region<'face'>): Segment<'face'> | null {
  const [a, b] = line;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (length === 0) return null;
  const at = (t: number): Point<'face'> => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
  const steps = Math.max(8, Math.ceil(length / 2));
  let [first, last] = [0, steps];
  while (first <= steps && !regionContains(outline, at(first / steps))) first++;
  while (last > first && !regionContains(outline, at(last / steps))) last--;
  const inset = Math.ceil((INSIDE * steps) / length);
  // An end that the line itself sets (it stops short of the edge) needs no inset.
  const from = first === 0 ? 0 : first + inset;
  const to = last === steps ? steps : last - inset;
  return first > steps || from >= to ? null : [at(from / steps), at(to / steps)];
}

function offLine([a, b]: Segment<'face'>, p: Point<'face'>): number {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return Math.abs((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])) / length;
}

/** Where line i crosses the others on wood. */
function crossings(i: number, spans: readonly (Segment<'face'> | null)[]): Point<'face'>[] {
  const here = spans[i] as Segment<'face'>;
  const out: Point<'face'>[] = [];
  spans.forEach((there, j) => {
    const p = i === j || !there ? null : crossingOf(here, there);
    if (p) out.push(p);
  });
  return out;
}

/** Where two segments cross; null where they do not, or run alongside each other. */
export function crossingOf([a, b]: Segment<'face'>, [c, d]: Segment<'face'>): Point<'face'> | null {
  const det = (b[0] - a[0]) * (d[1] - c[1]) - (b[1] - a[1]) * (d[0] - c[0]);
  if (Math.abs(det) < 1e-9) return null;
  const t = ((c[0] - a[0]) * (d[1] - c[1]) - (c[1] - a[1]) * (d[0] - c[0])) / det;
  const u = ((c[0] - a[0]) * (b[1] - a[1]) - (c[1] - a[1]) * (b[0] - a[0])) / det;
  const slack = 1e-6;
  if (t < -slack || t > 1 + slack || u < -slack || u > 1 + slack) return null;
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** The two points of a span whose line is truest at both of its ends. */
function bestPair(
  span: Segment<'face'>,
  shared: readonly Point<'face'>[],
  datum: Datum,
): [Point<'face'>, Point<'face'>] {
  const [a, b] = span;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const normal = [-(b[1] - a[1]) / length, (b[0] - a[0]) / length] as const;
  const place = (p: Point<'face'>): number =>
    ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / (length * length);
  const candidates = [
    ...shared.map((at) => ({ at, t: place(at), error: tapedError(datum, at, normal), fresh: 0 })),
    ...Array.from({ length: TRIALS + 1 }, (_, k) => {
      const t = k / TRIALS;
      const at: Point<'face'> = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
      return { at, t, error: tapedError(datum, at, normal), fresh: 1 };
    }),
  ];
  let best: [Point<'face'>, Point<'face'>] = [a, b];
  let least = Infinity;
  for (const p of candidates) {
    for (const q of candidates) {
      if (q.t - p.t < 0.2) continue;
      const error = lineError(p, q);
      // Fewest numbers first, as long as the line is good enough; truest line otherwise.
      const cost = error <= ROUGH_SIGMA ? p.fresh + q.fresh + error / (ROUGH_SIGMA * 1.01) : 2 + error / ROUGH_SIGMA;
      if (cost < least) {
        least = cost;
        best = [p.at, q.at];
      }
    }
  }
  return best;
}

/** Standard deviation of the line through two taped points, at the worse of the span's two ends. */
function lineError(p: { t: number; error: number }, q: { t: number; error: number }): number {
  const at = (t: number): number => {
    const share = (t - p.t) / (q.t - p.t);
    return Math.hypot((1 - share) * p.error, share * q.error);
  };
  return Math.max(at(0), at(1));
}

/** A distance that checks a marked point: across to a live edge, or along to an end of the slab. */
export interface EdgeCheck {
  readonly edge: 'upper edge' | 'lower edge' | 'left end' | 'right end';
  readonly mm: number;
  /** Where it is read. */
  readonly at: Point<'face'>;
}

/** From a point straight across to the nearer live edge, and straight along to the nearer end. */
export function edgeChecks(
  outline: Polygon<'face'>,
  p: Point<'face'>,
): { across: EdgeCheck | null; alongside: EdgeCheck | null } {
  const across = nearest(crossingsAtX(outline, p[0]), p[1], 'upper edge', 'lower edge', (y) => [p[0], y]);
  const turned = outline.map(([x, y]) => [y, x] as const);
  const alongside = nearest(crossingsAtX(turned, p[1]), p[0], 'left end', 'right end', (x) => [x, p[1]]);
  return { across, alongside };
}

function nearest(
  places: readonly number[],
  from: number,
  before: EdgeCheck['edge'],
  after: EdgeCheck['edge'],
  point: (place: number) => Point<'face'>,
): EdgeCheck | null {
  let best: EdgeCheck | null = null;
  for (const place of places) {
    const mm = Math.abs(place - from);
    if (!best || mm < best.mm) best = { edge: place < from ? before : after, mm, at: point(place) };
  }
  return best;
}
