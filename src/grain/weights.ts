/** How much two questions count that the measure asks of a joint; they add up to 1. */
interface Weights {
  /** Does it look like one wood rather than two places of the flitch? */
  readonly elsewhere: number;
  /** Does it look like the right line rather than one 8 to 25 mm beside it? */
  readonly beside: number;
}

/** Settled on one flitch, the demo's walnut; the others only confirmed it (`npm run accuracy -- seams`). */
export const WEIGHTS: Weights = { elsewhere: 0.4, beside: 0.6 };
