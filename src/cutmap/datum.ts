import { distance, type Point, type Segment } from '../geometry';

/**
 * Measuring from two marks (DESIGN 6). The chalk line runs from mark A to mark B; `along` is counted from A on it, `inward` square to it,
 * positive on its right hand as seen walking from A to B with the face up (down the picture where A is on the left). This is
 * the only place where the datum's transform is applied.
 */
export type Datum = Segment<'face'>;

/** A point as it is measured from the chalk line, mm. */
export interface Offsets {
  readonly along: number;
  readonly inward: number;
}

/** A point as it is taped from both marks, mm. */
export interface Tapes {
  readonly fromA: number;
  readonly fromB: number;
}

/** One standard deviation of a distance taped by hand, mm (common practice, no source). */
export const TAPE_SIGMA = 1;
/** Tape lines that cross flatter than this, in degrees, throw a point about; such a point is flagged (common practice, no source). */
export const LEAST_CROSSING = 25;
/** A tape longer than this, mm, sags and wants two people; such a distance is flagged. */
export const LONGEST_TAPE = 3000;

/** Along and in of a point. @throws RangeError when both marks are one point */
export function offsetsOf([a, b]: Datum, p: Point<'face'>): Offsets {
  const length = distance(a, b);
  if (length === 0) throw new RangeError('The two marks are one point: no line runs through them.');
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const [x, y] = [p[0] - a[0], p[1] - a[1]];
  return { along: x * ux + y * uy, inward: y * ux - x * uy };
}

/** The point with these offsets. @throws RangeError when both marks are one point */
export function pointAt([a, b]: Datum, { along, inward }: Offsets): Point<'face'> {
  const length = distance(a, b);
  if (length === 0) throw new RangeError('The two marks are one point: no line runs through them.');
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return [a[0] + along * ux - inward * uy, a[1] + along * uy + inward * ux];
}

/** Both tape distances of a point. */
export const tapesOf = ([a, b]: Datum, p: Point<'face'>): Tapes => ({ fromA: distance(a, p), fromB: distance(b, p) });

/**
 * Where two tapes cross, on the side of the chalk line that `inward` names.
 * @throws RangeError when the two tapes do not meet
 */
export function trilaterate(datum: Datum, { fromA, fromB }: Tapes, side: 'right' | 'left'): Point<'face'> {
  const base = distance(...datum);
  const along = (fromA * fromA - fromB * fromB + base * base) / (2 * base);
  const square = fromA * fromA - along * along;
  // Rounded distances of a point on the line itself may miss each other by a hair.
  if (square < -2 * base || Number.isNaN(square)) throw new RangeError('Tapes of these lengths do not meet.');
  const inward = Math.sqrt(Math.max(0, square));
  return pointAt(datum, { along, inward: side === 'right' ? inward : -inward });
}

/** The angle at which the two tapes cross at a point, 0..90 degrees: 90 fixes it best, 0 not at all. */
export function crossing([a, b]: Datum, p: Point<'face'>): number {
  const dot = (a[0] - p[0]) * (b[0] - p[0]) + (a[1] - p[1]) * (b[1] - p[1]);
  const cross = (a[0] - p[0]) * (b[1] - p[1]) - (a[1] - p[1]) * (b[0] - p[0]);
  const degrees = (Math.atan2(Math.abs(cross), dot) * 180) / Math.PI;
  return Math.min(degrees, 180 - degrees);
}

/**
 * Standard deviation of a taped point across a direction (unit normal n), mm, for tapes read with `sigma` each: the covariance of
 * the crossing of two circles, (J'J)^-1 sigma^2 with J the unit vectors from the marks. Infinite where the tapes do not cross.
 */
export function tapedError(
  [a, b]: Datum,
  p: Point<'face'>,
  [nx, ny]: readonly [number, number],
  sigma = TAPE_SIGMA,
): number {
  const [da, db] = [distance(a, p), distance(b, p)];
  if (da < 1e-9 || db < 1e-9) return Infinity;
  const [ax, ay] = [(p[0] - a[0]) / da, (p[1] - a[1]) / da];
  const [bx, by] = [(p[0] - b[0]) / db, (p[1] - b[1]) / db];
  const det = ax * by - ay * bx;
  if (Math.abs(det) < 1e-9) return Infinity;
  // Rows of J^-1 are (by, -ay) / det and (-bx, ax) / det: the step of p for a step of each tape.
  const fromA = (nx * by - ny * bx) / det;
  const fromB = (ny * ax - nx * ay) / det;
  return sigma * Math.hypot(fromA, fromB);
}
