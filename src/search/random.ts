/** Numbers by chance that are the same for the same seed, on every machine. */
export interface Random {
  /** Evenly spread over 0 <= x < 1. */
  next(): number;
  /** A whole number, 0 <= i < n. */
  below(n: number): number;
  /** From the normal distribution of mean 0 and standard deviation 1. */
  normal(): number;
  /** The items in an order by chance; the given list stays as it is. */
  shuffled<T>(items: readonly T[]): T[];
}

/**
 * A generator from a whole-number seed: mulberry32 (T. Ettinger 2017, public domain), 32 bits of state, ample for choosing
 * starts of a search; no use for secrets.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    next,
    below: (n) => Math.floor(next() * n),
    // Box and Muller (1958); 1 - next() is never 0, so its logarithm is finite.
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
    shuffled: (items) => {
      const order = [...items];
      for (let i = order.length - 1; i > 0; i--) {
        const j = Math.floor(next() * (i + 1));
        [order[i], order[j]] = [order[j] as (typeof order)[0], order[i] as (typeof order)[0]];
      }
      return order;
    },
  };
}
