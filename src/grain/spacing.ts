import type { Edge } from './edge';
import { LINE_TAPS } from './lines';

/** Spacings whose ratio is over this are told apart at a glance (our own figure, not settled by looking yet). */
const TOLD_APART = 1.4;
/** Fewer changes than this from light to dark say nothing of spacing. */
const ENOUGH = 20;

/** Whether the lines over one edge stand plainly closer than those over the other, over the stations from `from` to `to`. */
export function spacingDiffers(p: Edge, q: Edge, from: number, to: number): boolean {
  const [a, b] = [changes(p, from, to), changes(q, from, to)];
  if (Math.min(a.count, b.count) < ENOUGH) return false;
  const ratio = a.count / a.taps / (b.count / b.taps);
  return Math.max(ratio, 1 / ratio) > TOLD_APART;
}

/** How often lightness goes through its own mean across the grain: twice for each line. */
function changes({ lines }: Edge, from: number, to: number): { count: number; taps: number } {
  let [count, taps] = [0, 0];
  for (let k = from; k < to; k++) {
    for (let i = k * LINE_TAPS + 1; i < (k + 1) * LINE_TAPS; i++) {
      const [before, here] = [lines[i - 1] as number, lines[i] as number];
      // 0 stands where no sound wood is.
      if (before === 0 || here === 0) continue;
      taps++;
      if (before > 0 !== here > 0) count++;
    }
  }
  return { count, taps };
}
