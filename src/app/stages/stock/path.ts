import { distance, nearestOnSegment } from '../../../geometry';
import type { XY } from '../../canvas/items';

/** A place on an edited path: x, y, and on a crack the width there. */
export type PathPoint = readonly [x: number, y: number, width?: number];

/** A ring or line that is edited point by point, on the canvas or in the list beside it. */
export interface Path {
  /** Unique on the sheet; the handles' names begin with it. */
  key: string;
  /** What it is called in the names of edits: 'outline', 'crack a'. */
  name: string;
  points: readonly PathPoint[];
  closed: boolean;
  /** Whether each place has a width. */
  wide: boolean;
  /** Fewest points that it can have. */
  least: number;
  set(step: string, points: PathPoint[]): void;
  /** What a tap anywhere does; left out where only a tap on the path itself puts a point into it. */
  grow?(at: XY): void;
}

/** The name of a path's point among the handles. */
export const handleOf = (path: Path, place: number) => `${path.key}#${place}`;

/** Which point of the path a handle is; -1 when it is another's. */
export function placeOf(path: Path, handle: string | null): number {
  if (!handle?.startsWith(`${path.key}#`)) return -1;
  const place = Number(handle.slice(path.key.length + 1));
  return place < path.points.length ? place : -1;
}

/** The points with one moved; its width stays. */
export function moved(points: readonly PathPoint[], place: number, [x, y]: XY): PathPoint[] {
  return points.map((p, i) => (i === place ? withWidth(x, y, p[2]) : p));
}

/** The points with one taken out. */
export function without(points: readonly PathPoint[], place: number): PathPoint[] {
  return points.filter((_, i) => i !== place);
}

/** The points with a new one halfway after `place`; at the end of an open line, as far on again. */
export function withOneAfter(points: readonly PathPoint[], place: number, closed: boolean): PathPoint[] {
  const here = points[place];
  if (!here) return [...points];
  const open = !closed && place === points.length - 1;
  const there = open ? points[place - 1] : points[(place + 1) % points.length];
  if (!there) return [...points];
  const k = open ? -0.5 : 0.5;
  const between = (a: number, b: number) => a + k * (b - a);
  const width = here[2] === undefined ? undefined : here[2] + 0.5 * ((there[2] ?? here[2]) - here[2]);
  const added = withWidth(between(here[0], there[0]), between(here[1], there[1]), width);
  return [...points.slice(0, place + 1), added, ...points.slice(place + 1)];
}

/**
 * Where a tap at `at` would put a point into the path: into its nearest edge when that is within `reach`, and the place of
 * the new point; null when the tap was elsewhere.
 */
export function withOneAt(
  points: readonly PathPoint[],
  closed: boolean,
  at: XY,
  reach: number,
): { points: PathPoint[]; place: number } | null {
  let best: { place: number; d: number } | null = null;
  const edges = closed ? points.length : points.length - 1;
  for (let i = 0; i < edges; i++) {
    const a = points[i];
    const b = points[(i + 1) % points.length];
    if (!a || !b) continue;
    const d = distance(at, nearestOnSegment<'face'>(at, [xy(a), xy(b)]));
    if (d <= (best?.d ?? reach)) best = { place: i + 1, d };
  }
  if (!best) return null;
  const before = points[best.place - 1];
  const after = points[best.place % points.length];
  const width = before?.[2] === undefined ? undefined : (before[2] + (after?.[2] ?? before[2])) / 2;
  const added = withWidth(at[0], at[1], width);
  return { points: [...points.slice(0, best.place), added, ...points.slice(best.place)], place: best.place };
}

export const xy = ([x, y]: PathPoint): XY => [x, y];

const withWidth = (x: number, y: number, width: number | undefined): PathPoint =>
  width === undefined ? [x, y] : [x, y, width];
