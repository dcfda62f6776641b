import { recommendedLift } from '../wood';

/** How a weight compares with what one person should lift. */
export interface Lift {
  /** kg that the lifting equation recommends at most for one person. */
  readonly limit: number;
  /** The weight in such loads; over 1 it is not for one person. */
  readonly times: number;
}

/** A slab or top picked up from trestles and set down at the same height: hands 40 cm out, 75 cm up, hard to grip. */
const PICKED_UP = {
  horizontal: 400,
  vertical: 750,
  distance: 250,
  asymmetryDegrees: 0,
  coupling: 'poor',
  frequency: 1,
} as const;

/** A weight in kg against the lifting equation, which is for one person only: beyond it, help or a lift (NIOSH 94-110). */
export function liftOf(kg: number): Lift {
  const limit = recommendedLift(PICKED_UP);
  return { limit, times: kg / limit };
}
