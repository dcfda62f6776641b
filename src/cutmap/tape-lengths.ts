import { distance, type Point, type Polygon } from '../geometry';
import type { TapeReading } from '../job';
import type { SlabMeasures } from './measures';
import { edgeChecks } from './spots';

/** What can be taped on a marked slab to see whether the marking is right, and what the tape should read. */

/** One length to tape. */
export interface TapeLength {
  readonly from: string;
  readonly to: string;
  readonly ends: readonly [Point<'face'>, Point<'face'>];
  /** What it should read, with the ± of the photo. */
  readonly mm: number;
  readonly plusMinus: number;
  /** Between the two marks, between points that were marked from them, or to the wood's own edge. */
  readonly kind: 'marks' | 'points' | 'edge';
  /** How it answers to a step of its first end, or of its second the other way: a unit vector from point to point, less plain along a live edge. */
  readonly gradient: readonly [x: number, y: number];
}

/** A reading with the length that it is of, on the plan as it stands. */
export interface Taped extends TapeLength {
  readonly read: number;
}

/** A point that has moved so far since its length was taped is another point, mm. */
const SAME = 1;
const MARKS: readonly string[] = ['A', 'B'];

/** The lengths worth taping, the telling ones first: the chalk line, two or more between points, each mark from its edges, each point from its edge. */
export function tapeLengths(measures: SlabMeasures, outline: Polygon<'face'>): TapeLength[] {
  const checks = measures.checks.map(
    (check): TapeLength => ({
      ...check,
      kind: check.from === 'A' && check.to === 'B' ? 'marks' : 'points',
      gradient: unit(check.ends),
    }),
  );
  const marks = MARKS.flatMap((name, i) => {
    const { across, alongside } = measures.marks[name as 'A' | 'B'];
    return [across, alongside].flatMap((check) => toEdge(name, measures.datum[i] as Point<'face'>, check, outline));
  });
  const points = measures.points
    .filter(({ kind }) => kind === 'cut')
    .flatMap(({ label, at, across }) => toEdge(label, at, across, outline));
  return [...checks, ...marks, ...points];
}

type Edge = SlabMeasures['marks']['A']['across'];

function toEdge(from: string, at: Point<'face'>, check: Edge, outline: Polygon<'face'>): TapeLength[] {
  if (!check) return [];
  const { edge: to, at: foot, mm, plusMinus } = check;
  return [{ from, to, ends: [at, foot], mm, plusMinus, kind: 'edge', gradient: edgeGradient(at, check, outline) }];
}

/** A live edge is looked at so far on both sides of where the tape meets it, mm. */
const BESIDE = 15;
/** Steeper than this it is no edge that a length is taped to. */
const STEEP = 1.5;

/** How a length straight to the edge answers to a step of its point: by how the edge runs there. */
function edgeGradient(
  at: Point<'face'>,
  { edge, at: foot }: NonNullable<Edge>,
  outline: Polygon<'face'>,
): readonly [number, number] {
  const across = edge === 'upper edge' || edge === 'lower edge';
  const read = (by: number): number | null => {
    const checks = edgeChecks(outline, across ? [at[0] + by, at[1]] : [at[0], at[1] + by]);
    const check = across ? checks.across : checks.alongside;
    return check?.edge === edge ? check.mm : null;
  };
  const [before, after] = [read(-BESIDE), read(BESIDE)];
  const slope = before === null || after === null ? 0 : (after - before) / (2 * BESIDE);
  const beside = Math.abs(slope) > STEEP ? 0 : slope;
  const straight = unit([at, foot]);
  return across ? [beside, straight[1]] : [straight[0], beside];
}

function unit([p, q]: readonly [Point<'face'>, Point<'face'>]): readonly [number, number] {
  const length = Math.max(distance(p, q), 1e-9);
  return [(p[0] - q[0]) / length, (p[1] - q[1]) / length];
}

/** Whether a reading is of this length. */
export const isOf = (
  reading: Pick<TapeReading, 'from' | 'to'>,
  { from, to }: Pick<TapeLength, 'from' | 'to'>,
): boolean => (reading.from === from && reading.to === to) || (reading.from === to && reading.to === from);

/**
 * Readings with the lengths that they are of. What was taped at points that the plan has moved or dropped since is `old`: it says nothing of the
 * marking as it is now, and is kept.
 */
export function tapedLengths(
  readings: readonly TapeReading[],
  measures: SlabMeasures,
  outline: Polygon<'face'>,
  sure: (p: Point<'face'>, q: Point<'face'>) => number,
): { taped: Taped[]; old: TapeReading[] } {
  const lengths = tapeLengths(measures, outline);
  const places = new Map<string, Point<'face'>>([
    ['A', measures.datum[0]],
    ['B', measures.datum[1]],
    ...measures.points.map(({ label, at }): [string, Point<'face'>] => [label, at]),
  ]);
  const taped: Taped[] = [];
  const old: TapeReading[] = [];
  for (const reading of readings) {
    const length = lengths.find((one) => isOf(reading, one)) ?? between(reading, places, sure);
    const stays =
      length &&
      [length.from, length.to].every((label, i) => {
        const then = reading.ends[label === reading.from ? 0 : 1];
        // The foot of a line to the edge follows its point, and the outline.
        return !places.has(label) || distance(length.ends[i] as Point<'face'>, then) < SAME;
      });
    if (length && stays && !reading.old) taped.push({ ...length, read: reading.mm });
    else old.push(reading);
  }
  return { taped, old };
}

/** A length between any two marks and points. */
function between(
  { from, to }: TapeReading,
  places: ReadonlyMap<string, Point<'face'>>,
  sure: (p: Point<'face'>, q: Point<'face'>) => number,
): TapeLength | null {
  const [p, q] = [places.get(from), places.get(to)];
  if (!p || !q) return null;
  const kind = MARKS.includes(from) && MARKS.includes(to) ? 'marks' : 'points';
  return { from, to, ends: [p, q], mm: distance(p, q), plusMinus: sure(p, q), kind, gradient: unit([p, q]) };
}
