import type { Point } from '../geometry';

/** What is known of how marks lie to each other, by their places among the marks; one standard deviation each. */
export type Between =
  | { readonly kind: 'length'; readonly ends: readonly [number, number]; readonly mm: number; readonly sigma: number }
  /** A line square to another by eye; `sigma` is the sine of the angle that it is off by. */
  | {
      readonly kind: 'square';
      readonly ends: readonly [number, number];
      readonly to: readonly [number, number];
      readonly sigma: number;
    };

/** By how many sigma marks that lie at these places (mm on the face) miss it. */
export function offBetween(known: Between, at: (mark: number) => Point<'face'>): number {
  const way = ([a, b]: readonly [number, number]) => {
    const [p, q] = [at(a), at(b)];
    return [q[0] - p[0], q[1] - p[1]] as const;
  };
  const [dx, dy] = way(known.ends);
  const length = Math.hypot(dx, dy);
  if (known.kind === 'length') return (length - known.mm) / known.sigma;
  const [ex, ey] = way(known.to);
  return (dx * ex + dy * ey) / (length * Math.hypot(ex, ey) || 1) / known.sigma;
}
