/** How much each part of the measure counts; none is negative, and they add up to 1. */
export interface Weights {
  /** Lightness and colour next to the joint and their course towards it (the gradient). */
  readonly edge: number;
  /** Angle of the grain. */
  readonly angle: number;
  /** The broad look: colour at four depths and grain over 100 mm. */
  readonly block: number;
}

/** Provisional even weights. */
export function weightsAt(_kerf: number): Weights {
  return { edge: 1 / 3, angle: 1 / 3, block: 1 / 3 };
}
