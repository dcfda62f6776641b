import type { Point } from '../geometry';
import type { Mark } from './marks';
import type { Relief } from './relief';

/** How a mark lies on what is under it. All common practice, no source. */
type Seat = Pick<Mark, 'out' | 'outSigma' | 'lean' | 'leanSigma'>;

/** A card, sheet or rod stands on the high spots under it, curls, and has a thickness: one standard deviation, mm. */
const SEAT_SIGMA = 0.7;
/** And leans, on wood that is flat: one standard deviation, as a share (a tenth of a millimetre over a card). */
const LEAN_SIGMA = 0.0015;
/** On wood that slopes, it leans by this share of the slope, one standard deviation: stiff cards bridge, limp ones follow. */
const GIVES_WAY = 0.3;
/** Half the span over which the wood's slope is taken, mm: about a card's. */
const SPAN = 60;

/** The seat of a mark on a bench or floor, which is flatter than wood. */
export const ON_BENCH: Seat = { out: 0, outSigma: 0.5, lean: [0, 0], leanSigma: 0.001 };

/** The seat of a mark on the wood: level, but for what it may give way to the slope that is under it or may be. */
export function seatOn(relief: Relief, [x, y]: Point<'face'>): Seat {
  const slope = (a: Point<'face'>, b: Point<'face'>) => ((relief.height(b) - relief.height(a)) / (2 * SPAN)) ** 2;
  const square = slope([x - SPAN, y], [x + SPAN, y]) + slope([x, y - SPAN], [x, y + SPAN]);
  return {
    out: relief.height([x, y]),
    outSigma: Math.sqrt(relief.doubt([x, y], [x, y]) + SEAT_SIGMA ** 2),
    lean: [0, 0],
    leanSigma: Math.sqrt(LEAN_SIGMA ** 2 + GIVES_WAY ** 2 * square),
  };
}
