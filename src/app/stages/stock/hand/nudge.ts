import { distance } from '../../../../geometry';
import type { XY } from '../../../canvas/items';
import { countOf, type Ring, type Run } from './ring';

/** Within the reach of a nudge the edge has a point at least every so many parts of it: a long straight would bend in corners. */
const PARTS = 8;

/** A ring with a run of its points, which are counted anew where points came in. */
export interface RingRun {
  readonly ring: Ring;
  readonly run: Run;
}

/**
 * The ring ready to be nudged softly: points put into it where it has few, within `reach` (mm along the edge) of a run. Its shape is the same.
 */
export function readied(ring: Ring, run: Run, reach: number): RingRun {
  if (reach <= 0) return { ring, run };
  const share = shares(ring, run, reach);
  const out: XY[] = [];
  const places: number[] = [];
  ring.forEach((p, i) => {
    places.push(out.length);
    out.push(p);
    const j = (i + 1) % ring.length;
    const q = ring[j] as XY;
    const parts = Math.ceil(distance<'face'>(p, q) / (reach / PARTS));
    const inside = share[i] === 1 && share[j] === 1;
    if (inside || (share[i] === 0 && share[j] === 0)) return;
    for (let k = 1; k < parts; k++) out.push([p[0] + (k / parts) * (q[0] - p[0]), p[1] + (k / parts) * (q[1] - p[1])]);
  });
  return { ring: out, run: { first: places[run.first] ?? 0, last: places[run.last] ?? 0 } };
}

/** The ring with a run of its points moved, and its neighbours within `reach` along the edge with it, less and less. */
export function nudged(ring: Ring, run: Run, [dx, dy]: XY, reach: number): XY[] {
  const share = shares(ring, run, reach);
  return ring.map((p, i) => {
    const part = share[i] ?? 0;
    return part === 0 ? p : [p[0] + part * dx, p[1] + part * dy];
  });
}

/** How much each point goes along: all within the run, (1 - (d/reach)^2)^2 beside it, which ends without a kink. */
function shares(ring: Ring, run: Run, reach: number): Float64Array {
  const n = ring.length;
  const share = new Float64Array(n);
  const count = countOf(run, n);
  for (let i = 0; i < count; i++) share[(run.first + i) % n] = 1;
  for (const [from, step] of [
    [run.last, 1],
    [run.first, -1],
  ] as const) {
    let off = 0;
    for (let k = 1; k <= n - count; k++) {
      const i = (from + step * k + n * k) % n;
      const before = ring[(from + step * (k - 1) + n * k) % n] as XY;
      off += distance<'face'>(before, ring[i] as XY);
      if (off >= reach) break;
      share[i] = Math.max(share[i] ?? 0, (1 - (off / reach) ** 2) ** 2);
    }
  }
  return share;
}
