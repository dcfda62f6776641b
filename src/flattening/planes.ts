import type { BlankFlattening } from './io';

/** A plane z = a x + b y + c, mm. */
export interface Plane {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** How far a spot stands over the plane, square to it, mm. */
export function over({ a, b, c }: Plane, x: number, y: number, z: number): number {
  return (z - a * x - b * y - c) / Math.hypot(a, b, 1);
}

/** The parallel plane `by` mm higher, square to it. */
export function lifted({ a, b, c }: Plane, by: number): Plane {
  return { a, b, c: c + by * Math.hypot(a, b, 1) };
}

/** The planes that a blank's passes end at: thinner than the thickest board where less was wanted, as much off each side. */
export function finishedPlanes({ plane, thickest, budget }: Pick<BlankFlattening, 'plane' | 'thickest' | 'budget'>): {
  readonly under: Plane;
  readonly upper: Plane;
} {
  const mm = (item: string): number => budget.find((entry) => entry.item === item)?.mm ?? 0;
  const flat = mm('rough') - mm('lost under') - mm('lost over');
  const under = lifted(plane, (thickest - flat) / 2);
  return { under, upper: lifted(under, flat) };
}
