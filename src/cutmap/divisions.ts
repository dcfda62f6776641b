import { distance, type Point, type Segment } from '../geometry';
import type { Job } from '../job';
import { type Datum, offsetsOf, tapesOf, trilaterate } from './datum';

/**
 * Tapes that fall on the tape's own divisions. A thirty-second of an inch is 0.8 mm, so two distances rounded to it land up to 0.6 mm off where they cross
 * square, and more where they do not; but a proposed mark may lie a few millimetres elsewhere, and a point anywhere along its line.
 */

/** The finest division that a job's papers print, mm. */
export const divisionOf = ({ units, printed }: Pick<Job, 'units' | 'printed'>): number =>
  units === 'mm' ? 0.1 : 25.4 / (printed?.fraction ?? 32);

/** Divisions finer than this need no help, mm. */
const FINE = 0.3;
/** A proposed mark moves no farther than this, mm: less than it keeps off edges and blanks. */
const MOST = 6;
/** A point slides along its line no farther than this, by such steps, mm. */
const SLIDE = 15;
const STEP = 0.25;

const offDivision = (mm: number, division: number): number => Math.abs(mm - Math.round(mm / division) * division);

/** The marks moved, each by a few whole millimetres, so that the tapes to these points come as near to divisions as can be. */
export function marksOnDivisions(datum: Datum, points: readonly Point<'face'>[], division: number): Datum {
  if (division < FINE || points.length === 0) return datum;
  const [a, b] = datum.map((mark): Point<'face'> => {
    const off = (at: Point<'face'>): number =>
      Math.max(...points.map((point) => offDivision(distance(at, point), division)));
    let best: Point<'face'> = mark;
    for (let dx = -MOST; dx <= MOST; dx++)
      for (let dy = -MOST; dy <= MOST; dy++) {
        const at: Point<'face'> = [mark[0] + dx, mark[1] + dy];
        if (off(at) < off(best) - 1e-9) best = at;
      }
    return best;
  }) as [Point<'face'>, Point<'face'>];
  return [a, b];
}

/** A point of a line slid along it to where its two tapes, as printed, lead back to it best. */
export function slidOnDivisions(
  at: Point<'face'>,
  [p, q]: Segment<'face'>,
  datum: Datum,
  division: number,
): Point<'face'> {
  const length = distance(p, q);
  if (division < FINE || length === 0) return at;
  const [ux, uy] = [(q[0] - p[0]) / length, (q[1] - p[1]) / length];
  const here = (at[0] - p[0]) * ux + (at[1] - p[1]) * uy;
  let [best, least] = [at, Infinity];
  for (let k = 0; k <= (2 * SLIDE) / STEP; k++) {
    // From the middle outwards, so that it moves no farther than it must.
    const by = (k % 2 === 0 ? 1 : -1) * Math.ceil(k / 2) * STEP;
    if (here + by < 0 || here + by > length) continue;
    const to: Point<'face'> = [at[0] + by * ux, at[1] + by * uy];
    const off = landing(to, datum, division);
    if (off < least - 1e-9) [best, least] = [to, off];
  }
  return best;
}

/** How far off the plan the printed tapes of these points cross, the farthest, mm; null where divisions are so fine that it is nothing. */
export function worstLanding(points: readonly Point<'face'>[], datum: Datum, division: number): number | null {
  if (division < FINE || points.length === 0) return null;
  return Math.max(...points.map((at) => landing(at, datum, division)));
}

/** How far from a point its two printed tapes cross, mm. */
function landing(at: Point<'face'>, datum: Datum, division: number): number {
  const { fromA, fromB } = tapesOf(datum, at);
  const printed = (mm: number): number => Math.round(mm / division) * division;
  const side = offsetsOf(datum, at).inward >= 0 ? 'right' : 'left';
  try {
    return distance(trilaterate(datum, { fromA: printed(fromA), fromB: printed(fromB) }, side), at);
  } catch (fault) {
    if (fault instanceof RangeError) return Infinity;
    throw fault;
  }
}
