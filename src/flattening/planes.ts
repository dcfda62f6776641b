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
