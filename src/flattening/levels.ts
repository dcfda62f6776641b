/**
 * For each share, the level under which that share of a face lies: the greatest one such that what is strictly under it weighs no more.
 * @param values one for each place
 * @param weights of the places, adding up to 1
 * @param shares rising, from 0, under 1
 * @param order scratch: the places' indices in any order; left partly sorted, which makes the next call with like values quick
 */
export function levelsAt(
  values: Float64Array,
  weights: Float64Array,
  shares: readonly number[],
  order: Uint32Array,
): number[] {
  const tail = lowestOf(values, weights, shares.at(-1) as number, order);
  const low = order.subarray(0, tail).sort((p, q) => (values[p] as number) - (values[q] as number));
  let [under, k] = [0, 0];
  return shares.map((share) => {
    while (k + 1 < low.length && under + (weights[low[k] as number] as number) <= share + ROUNDING) {
      under += weights[low[k] as number] as number;
      k++;
    }
    return values[low[k] as number] as number;
  });
}

const ROUNDING = 1e-12;

/**
 * Brings the lowest values to the front until they weigh more than `most`: quickselect (Hoare 1961) with the three parts of Dijkstra's
 * flag, so that many like values do no harm. @returns how many were brought
 */
function lowestOf(values: Float64Array, weights: Float64Array, most: number, order: Uint32Array): number {
  const weigh = (from: number, to: number): number => {
    let sum = 0;
    for (let k = from; k < to; k++) sum += weights[order[k] as number] as number;
    return sum;
  };
  let [from, to, before] = [0, order.length, 0];
  while (from < to) {
    const pivot = values[order[(from + to) >> 1] as number] as number;
    let [less, k, more] = [from, from, to];
    while (k < more) {
      const at = order[k] as number;
      const value = values[at] as number;
      if (value < pivot) {
        order[k++] = order[less] as number;
        order[less++] = at;
      } else if (value > pivot) {
        order[k] = order[--more] as number;
        order[more] = at;
      } else k++;
    }
    const under = before + weigh(from, less);
    if (under > most + ROUNDING) {
      to = less;
      continue;
    }
    before = under + weigh(less, more);
    if (before > most + ROUNDING) return more;
    from = more;
  }
  return order.length;
}
