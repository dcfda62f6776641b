import type { RingCourse } from './drift-types';

/** The pith's place across and below a face at x. */
export function pithAt({ from, to, pith, deep }: RingCourse, x: number): readonly [across: number, deep: number] {
  const last = pith.length - 1;
  const at = Math.max(0, Math.min(last, ((x - from) / Math.max(1e-9, to - from)) * last));
  const i = Math.min(Math.max(0, last - 1), Math.floor(at));
  const f = at - i;
  const mix = (values: readonly number[]) =>
    (values[i] as number) * (1 - f) + (values[Math.min(last, i + 1)] as number) * f;
  return [mix(pith), mix(deep)];
}

/**
 * Where a ring that crosses a face `across` mm from the pith crosses a face `depth` mm nearer to the pith, less `across`. Rings are circles about the
 * pith: across^2 + deep^2 stays. NaN where the ring does not reach that face.
 */
export function ringShift(across: number, deep: number, depth: number): number {
  const square = across * across + deep * deep - (deep - depth) ** 2;
  return square > 0 ? Math.sign(across) * Math.sqrt(square) - across : Number.NaN;
}
