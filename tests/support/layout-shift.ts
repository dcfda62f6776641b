/** Something that moved without anybody's doing: when, ms, and by how much. */
export interface Shift {
  readonly at: number;
  readonly value: number;
}

/**
 * Cumulative layout shift as it is published (web.dev, "Cumulative Layout Shift", session windows): the most that shifts in one burst, which a
 * second without shifts ends, and which lasts five at the most.
 * @param shifts in the order of time
 */
export function cumulativeLayoutShift(shifts: readonly Shift[]): number {
  let most = 0;
  let [sum, first, last] = [0, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { at, value } of shifts) {
    if (at - last > 1000 || at - first > 5000) [sum, first] = [0, at];
    sum += value;
    last = at;
    most = Math.max(most, sum);
  }
  return most;
}
