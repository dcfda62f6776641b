/**
 * The items of which no other is at least as good in every figure and better in one, in their order; of items that are alike in all figures the first.
 * @param figures of an item, more being better; as many of every item
 */
export function nonDominated<T>(items: readonly T[], figures: (item: T) => readonly number[]): T[] {
  const all = items.map((item) => ({ item, figures: figures(item) }));
  return all
    .filter(
      (one, i) =>
        !all.some((other, j) => {
          if (i === j) return false;
          const asGood = other.figures.every((value, k) => value >= (one.figures[k] as number));
          const better = other.figures.some((value, k) => value > (one.figures[k] as number));
          return asGood && (better || j < i);
        }),
    )
    .map(({ item }) => item);
}
