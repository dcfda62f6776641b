import { distance, distanceToRing, simplifyLine } from '../../../../geometry';
import type { XY } from '../../../canvas/items';
import {
  along,
  lengthAround,
  nearestPlace,
  pointsOf,
  type Ring,
  type RingPlace,
  type Run,
  replaced,
  stretch,
} from './ring';

/**
 * Smoothing that does not shrink: a step towards the mean of the two neighbours, then a slightly longer one away from it, so that the waves that
 * are kept come out as long as they were (Taubin 1995, Curve and surface smoothing without shrinkage). With these two steps and so many passes,
 * over points that are evenly spaced, waves shorter than EVEN spacings lose more than half of their height and those twice as long stay.
 */
const IN = 0.5;
const OUT = -0.526;
const PASSES = 50;
const EVEN = 8;
/** What is dropped again of the evenly spaced points lies this near to those that stay, mm. */
const SIMPLER = 0.05;
/** More points than this are not looked at; a longer stretch gets them further apart. */
const MOST = 6000;

/** A line with its bumps shorter than `bump` mm taken off; its two ends stay. */
export function smoothLine(line: readonly XY[], bump: number): XY[] {
  return simplifyLine<'face'>(passed(evenly(line, bump / EVEN)), SIMPLER);
}

/** A run of a ring's points smoothed. */
export interface Smoothed {
  readonly ring: XY[];
  /** The run alone. */
  readonly line: XY[];
  /** How far the edge moved at most, mm. */
  readonly moved: number;
}

/** The ring with a run of its points smoothed; the run's two ends stay. */
export function smoothRun(ring: Ring, run: Run, bump: number): Smoothed {
  const points = pointsOf(ring, run);
  if (points.length < 3) return { ring: [...ring], line: points, moved: 0 };
  const place = (i: number): RingPlace => ({ edge: i, at: ring[i] as XY });
  const line = smoothLine(points, bump);
  const next = replaced(ring, place(run.first), line, place(run.last));
  return { ring: next, line, moved: Math.max(...points.map((p) => distanceToRing<'face'>(p, next))) };
}

/**
 * The ring smoothed about one place, as by one dab of a soft brush as wide as the bumps that it takes off: full in its middle, nothing at its rim.
 * @returns null where the brush does not touch the ring
 */
export function smoothAt(ring: Ring, at: XY, bump: number): XY[] | null {
  const middle = nearestPlace(ring, at);
  const half = Math.min(bump, 0.25 * lengthAround(ring));
  if (middle.off > half) return null;
  const [from, to] = [along(ring, middle, -half), along(ring, middle, half)];
  const even = evenly(stretch(ring, from, to), bump / EVEN);
  const smooth = passed(even);
  const last = even.length - 1;
  const line = even.map(([x, y], i): XY => {
    const [sx, sy] = smooth[i] as XY;
    const share = (1 - (2 * (i / last) - 1) ** 2) ** 2;
    return [x + share * (sx - x), y + share * (sy - y)];
  });
  return replaced(ring, from, simplifyLine<'face'>(line, SIMPLER), to);
}

/** Points at equal spacing along a line, no more than `spacing` apart; its ends stay. */
function evenly(line: readonly XY[], spacing: number): XY[] {
  const length = line.slice(1).reduce((sum, p, i) => sum + distance<'face'>(line[i] as XY, p), 0);
  const parts = Math.min(MOST, Math.max(2, Math.ceil(length / spacing)));
  const out: XY[] = [line[0] as XY];
  let [walked, i] = [0, 0];
  for (let k = 1; k < parts; k++) {
    const goal = (k * length) / parts;
    for (;;) {
      const [p, q] = [line[i] as XY, line[i + 1] as XY];
      const step = distance<'face'>(p, q);
      if (walked + step < goal && i < line.length - 2) {
        walked += step;
        i++;
        continue;
      }
      const t = step === 0 ? 0 : (goal - walked) / step;
      out.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
      break;
    }
  }
  out.push(line.at(-1) as XY);
  return out;
}

function passed(line: readonly XY[]): XY[] {
  let now = [...line];
  for (let pass = 0; pass < 2 * PASSES; pass++) {
    const by = pass % 2 === 0 ? IN : OUT;
    now = now.map((p, i) => {
      const [before, after] = [now[i - 1], now[i + 1]];
      if (!before || !after) return p;
      return [p[0] + by * ((before[0] + after[0]) / 2 - p[0]), p[1] + by * ((before[1] + after[1]) / 2 - p[1])];
    });
  }
  return now;
}
