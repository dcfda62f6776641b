import type { BoardSheets, PithCourse, RingShape } from './pith-course';
import { FARTHEST_RING, newStrips, readStrips, type Strip } from './ring-strips';

/** From one station to the next the pith may move so many steps of so many mm, either way, across and in depth. */
const STEPS = 3;
const STEP = 0.75;
/** What moving by a step costs, in likeness, by its square. */
const MOVE = 0.002;
/** What a station has shown counts so much less at the next. */
const KEEP = 0.85;

/** A course with how alike each station was to those before it. */
export interface Track {
  readonly course: PithCourse;
  readonly likeness: number;
}

/**
 * Follows the pith along a board from where it is taken to run at its first station: rings go on from station to station on both sides of it and on both
 * faces, and only one move of the pith keeps all of them in place. What the start is off by stays; how the pith runs is found in spite of it.
 */
export function trackPith(
  board: BoardSheets,
  start: { readonly across: number; readonly deep: number },
  shape: RingShape,
): Track {
  const seen = new SeenStrips();
  const strips = newStrips();
  let [p, d, sum] = [start.across, start.deep, 0];
  const [across, deep] = [[p], [d]];
  readStrips(board, 0, p, d, shape, strips);
  seen.add(strips);
  for (let j = 1; j < board.stations; j++) {
    let best = { value: Number.NEGATIVE_INFINITY, alike: 0, p, d };
    for (let a = -STEPS; a <= STEPS; a++) {
      for (let b = -STEPS; b <= STEPS; b++) {
        const [pa, db] = [p + a * STEP, d + b * STEP];
        readStrips(board, j, pa, db, shape, strips);
        const alike = seen.likeness(strips);
        const value = alike - MOVE * (a * a + b * b);
        if (value > best.value) best = { value, alike, p: pa, d: db };
      }
    }
    [p, d] = [best.p, best.d];
    sum += best.alike;
    readStrips(board, j, p, d, shape, strips);
    seen.add(strips);
    across.push(p);
    deep.push(d);
  }
  return {
    course: { across: smoothed(across), deep: smoothed(deep), shape },
    likeness: sum / Math.max(1, board.stations - 1),
  };
}

/** A pith does not jerk from station to station: the mean over so many either way, fewer at the ends. */
const SMOOTH = 2;
const smoothed = (values: readonly number[]): number[] =>
  values.map((_, i) => {
    const reach = Math.min(SMOOTH, i, values.length - 1 - i);
    const near = values.slice(i - reach, i + reach + 1);
    return near.reduce((sum, value) => sum + value, 0) / near.length;
  });

/** What the strips of the last stations showed. */
class SeenStrips {
  private readonly sums = Array.from({ length: 4 }, () => new Float32Array(FARTHEST_RING));
  private readonly counts = Array.from({ length: 4 }, () => new Float32Array(FARTHEST_RING));

  add(strips: readonly Strip[]): void {
    for (const [s, { tones }] of strips.entries()) {
      const [sum, count] = [this.sums[s] as Float32Array, this.counts[s] as Float32Array];
      for (let r = 0; r < FARTHEST_RING; r++) {
        const tone = tones[r] as number;
        sum[r] = KEEP * (sum[r] as number) + tone;
        count[r] = KEEP * (count[r] as number) + (tone === 0 ? 0 : 1);
      }
    }
  }

  /** Correlation of a station's strips with them. */
  likeness(strips: readonly Strip[]): number {
    let [pq, pp, qq] = [0, 1e-9, 1e-9];
    for (const [s, { tones, from, to }] of strips.entries()) {
      const [sum, count] = [this.sums[s] as Float32Array, this.counts[s] as Float32Array];
      for (let r = from; r <= to; r++) {
        const [p, n] = [tones[r] as number, count[r] as number];
        if (p === 0 || n < 1e-3) continue;
        const q = (sum[r] as number) / n;
        pq += p * q;
        pp += p * p;
        qq += q * q;
      }
    }
    return pq / Math.sqrt(pp * qq);
  }
}
