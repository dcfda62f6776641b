/**
 * How much work a search may do, counted in the solver's own units (each search says what its unit is). Work, not time, limits a
 * search whose answer must be the same on every machine; a caller that wants a time limit gives `timeIsUp` and gives up sameness.
 */
export class WorkBudget {
  #spent = 0;

  /**
   * @param limit units allowed; without it, as many as the search wants
   * @param timeIsUp asked now and then; once it says true the budget is spent
   */
  constructor(
    readonly limit: number = Number.POSITIVE_INFINITY,
    readonly timeIsUp: () => boolean = () => false,
  ) {
    if (!(limit >= 0)) throw new RangeError('A work budget must not be negative.');
  }

  /** Units spent so far. */
  get spent(): number {
    return this.#spent;
  }

  /** Units still to be spent; 0 once the time is up. */
  get left(): number {
    return this.timeIsUp() ? 0 : Math.max(0, this.limit - this.#spent);
  }

  /** Counts `units` as spent. @returns whether anything is left for more work */
  spend(units = 1): boolean {
    this.#spent += units;
    return this.left > 0;
  }
}
