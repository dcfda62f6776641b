import { type LineGrid, lineGrid, matchGrids, type Rows } from '../grain';
import { type Control, pause } from '../search';
import { CELL } from './seam-coarse';
import { type Pair, type Scored, type SeamBench, stripDepths } from './seam-pair';
import { spread } from './spread';

/** Steps of the scan: both lines' angle, the slide, and where along the front slab the top begins. */
const DEGREES = 2;
const SLIDE = 20;
const STATIONS = 400;
/** A weaker match of the wander says nothing. */
const TELLING = 0.15;

interface Level {
  readonly grid: LineGrid;
  /** Rows at which the slab has wood for a strip on one side or the other; null where there are none. */
  readonly rows: Rows | null;
}

function levelAt(bench: SeamBench, side: 'front' | 'back', x: number, degrees: number, way: 1 | -1): Level {
  const { features, room } = bench[side];
  const { length } = room.wish;
  const grid = lineGrid(features, x, degrees, way, length);
  let [from, to] = [grid.rows, 0];
  for (let i = 0; i < grid.rows; i += 4) {
    for (const kept of [1, -1] as const) {
      const place = { x, y: grid.yOf(i), degrees, way: kept };
      if (!stripDepths(bench[side], side, place)) continue;
      from = Math.min(from, i);
      to = Math.max(to, i + 1);
    }
  }
  return { grid, rows: to > from ? [Math.max(0, from - 8), Math.min(grid.rows, to + 8)] : null };
}

/**
 * The second sieve: pairs of lines at like angles over which the figure's lines wander alike. Such a place is a millimetre wide, too
 * narrow for the first sieve, yet it is what the eye follows across a joint. It is the same place whichever strips are kept: the best of
 * each cell of both offsets is given for either way of keeping them.
 * @param turned -1 with the slab behind turned end for end
 */
export async function linePairs(bench: SeamBench, turned: 1 | -1, control: Control): Promise<Scored[]> {
  const { front, back, limits, length } = bench;
  const best = new Map<string, Scored>();
  const [first, last] = [front.room.minX + length / 2, front.room.maxX - length / 2];
  const starts = last - first < STATIONS ? [(first + last) / 2] : spread(first, last, STATIONS);
  const slides = spread(-limits.slide, limits.slide, SLIDE);
  for (const degrees of spread(-limits.degrees, limits.degrees, DEGREES)) {
    const levels = new Map<number, Level>();
    for (const [i, x] of starts.entries()) {
      const f = levelAt(bench, 'front', x, degrees, 1);
      for (const slide of f.rows ? slides : []) {
        if (control.budget.left === 0) return [...best.values()];
        await pause(control, i / starts.length);
        const backX = Math.round(back.middle + turned * (x - front.middle - slide));
        const b = levels.get(backX) ?? levelAt(bench, 'back', backX, degrees, turned);
        levels.set(backX, b);
        if (!f.rows || !b.rows) continue;
        matchGrids(f.grid, b.grid, f.rows, b.rows, TELLING, (m, n, match) => {
          const [y, backY] = [f.grid.yOf(m), b.grid.yOf(n)];
          const cost = 1 - match;
          for (const way of [1, -1] as const) {
            const key = `${way} ${Math.floor(y / CELL)} ${Math.floor(backY / CELL)}`;
            if (cost >= (best.get(key)?.cost ?? Infinity)) continue;
            const pair: Pair = {
              front: { x, y, degrees, way },
              back: { x: backX, y: backY, degrees, way: turned === way ? 1 : -1 },
            };
            if (bench.fits(pair)) best.set(key, { ...pair, cost });
          }
        });
      }
    }
  }
  return [...best.values()];
}
