/** A board ripped into strips that the machine takes, all alike. mm. */
export interface Strips {
  readonly count: number;
  readonly width: number;
}

/**
 * As few strips as go under the machine's guides. What is ripped is joined again in every leaf that is to be as wide as the board was, along a line
 * where the figure has lost the kerf.
 * @param height tallest that the machine takes; null where nobody said
 * @param kerf of the saw that rips
 */
export function stripsOf(width: number, height: number | null, kerf: number): Strips {
  const count = height === null || width <= height ? 1 : Math.ceil((width + kerf) / (height + kerf));
  return { count, width: (width - (count - 1) * kerf) / count };
}
