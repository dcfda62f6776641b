/** What holds within a window that runs along a line, `half` places either way of each, each in time that the window's length does not matter to. */

/** The mean. */
export function meanAround(values: ArrayLike<number>, half: number): Float64Array {
  const { length } = values;
  const sums = new Float64Array(length + 1);
  for (let i = 0; i < length; i++) sums[i + 1] = (sums[i] as number) + (values[i] as number);
  return Float64Array.from({ length }, (_, i) => {
    const [from, end] = [Math.max(0, i - half), Math.min(length, i + half + 1)];
    return ((sums[end] as number) - (sums[from] as number)) / (end - from);
  });
}

/** The greatest: what may still become it waits in a queue, the greatest first (the monotone queue of Lemire, 2006). */
export function mostAround(values: ArrayLike<number>, half: number): Float64Array {
  const { length } = values;
  const out = new Float64Array(length);
  const waiting = new Int32Array(length);
  let [first, end] = [0, 0];
  for (let i = 0; i < length + half; i++) {
    if (i < length) {
      while (end > first && (values[waiting[end - 1] as number] as number) <= (values[i] as number)) end--;
      waiting[end++] = i;
    }
    if (i < half) continue;
    if ((waiting[first] as number) < i - 2 * half) first++;
    out[i - half] = values[waiting[first] as number] as number;
  }
  return out;
}

/** The least. */
export const leastAround = (values: Float64Array, half: number): Float64Array =>
  mostAround(
    values.map((v) => -v),
    half,
  ).map((v) => -v);

/**
 * The median, of an even number of values the upper one.
 * @param values whole numbers from 0 to below `kinds`
 */
export function medianAround(values: Int32Array, half: number, kinds: number): Int32Array {
  const counts = new Int32Array(kinds);
  const add = (i: number, by: 1 | -1) => {
    const value = values[i];
    if (value !== undefined) counts[value] = (counts[value] as number) + by;
  };
  for (let i = 0; i < half; i++) add(i, 1);
  return values.map((_, i) => {
    add(i + half, 1);
    add(i - half - 1, -1);
    const middle = (Math.min(values.length, i + half + 1) - Math.max(0, i - half)) >> 1;
    let [value, below] = [0, counts[0] as number];
    while (below <= middle) below += counts[++value] as number;
    return value;
  });
}
