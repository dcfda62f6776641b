/** Evenly spread from `from` to `to`, at most `step` apart, the middle among them when they are one. */
export function spread(from: number, to: number, step: number): number[] {
  if (to < from) return [];
  const gaps = Math.ceil((to - from) / step - 1e-9);
  return Array.from({ length: gaps + 1 }, (_, i) => (gaps === 0 ? (from + to) / 2 : from + (i * (to - from)) / gaps));
}
