/** How much each part of the measure counts; none is negative, and they add up to 1. */
interface Weights {
  /** Lightness and colour next to the joint and their course towards it (the gradient). */
  readonly edge: number;
  /** Angle of the grain. */
  readonly angle: number;
  /** The broad look: colour at four depths and grain over 100 mm. */
  readonly block: number;
}

/** Even, since each part already is 1 in the mean over uncut wood; not fitted to any trial. */
export const WEIGHTS: Weights = { edge: 1 / 3, angle: 1 / 3, block: 1 / 3 };
