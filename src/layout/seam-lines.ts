import { cellFloor, type LineGrid, lineGrid, matchGrids, type Rows } from '../grain';
import { type Control, pause } from '../search';
import { CELL } from './seam-coarse';
import { type Pair, type Scored, type SeamBench, stripDepths } from './seam-pair';
import { type Depths, makesTop } from './seam-room';
import { spread } from './spread';

/** Steps of the scan: both lines' angle, the slide, and where along the front slab the top begins; mm and degrees. */
const DEGREES = 2;
const SLIDE = 20;
const STATIONS = 400;
/** A weaker match of the wander says nothing. */
const TELLING = 0.15;
/** Wood beside the lines is looked up at every so many rows. */
const ROWS = 4;

const WAYS = [1, -1] as const;

/** Lines of one slab at one place and angle. */
interface Level {
  readonly x: number;
  readonly grid: LineGrid;
  /** Wood for a strip beside every ROWS-th row, for both ways in which the line may run; null where there is too little. */
  readonly depths: readonly (readonly (Depths | null)[])[];
  /** Rows with wood on one side or the other; null where there are none. */
  readonly rows: Rows | null;
}

function levelAt(bench: SeamBench, side: 'front' | 'back', x: number, degrees: number, turned: 1 | -1): Level {
  const { features, room } = bench[side];
  const grid = lineGrid(features, x, degrees, turned, room.wish.length);
  const rows = Array.from({ length: Math.ceil(grid.rows / ROWS) }, (_, i) => grid.yOf(i * ROWS));
  const depths = WAYS.map((way) =>
    rows.map((y) => stripDepths(bench[side], side, { x, y, degrees, way: way === turned ? 1 : -1 })),
  );
  const some = [...rows.keys()].filter((i) => depths.some((one) => one[i]));
  const [first, last] = [some[0], some.at(-1)];
  if (first === undefined || last === undefined) return { x, grid, depths, rows: null };
  return { x, grid, depths, rows: [Math.max(0, first * ROWS - 8), Math.min(grid.rows, last * ROWS + 9)] };
}

/**
 * The second sieve: pairs of lines at like angles over which the figure's lines wander alike. Such a place is a millimetre wide, too
 * narrow for the first sieve, yet it is what the eye follows across a joint. It is the same place whichever strips are kept: the best of
 * each cell of both offsets is given for either way of keeping them.
 * @param turned -1 with the slab behind turned end for end
 */
export async function linePairs(bench: SeamBench, turned: 1 | -1, control: Control): Promise<Scored[]> {
  const { front, back, limits, length } = bench;
  const { wish } = front.room;
  const floor = cellFloor(front.features, back.features, CELL, TELLING);
  const best = WAYS.map((): (Scored | undefined)[] => []);
  const done = (): Scored[] => best.flatMap((cells) => cells.filter((pair) => pair !== undefined));
  const [first, last] = [front.room.minX + length / 2, front.room.maxX - length / 2];
  const starts = last - first < STATIONS ? [(first + last) / 2] : spread(first, last, STATIONS);
  const slides = spread(-limits.slide, limits.slide, SLIDE);
  const angles = spread(-limits.degrees, limits.degrees, DEGREES);
  for (const [a, degrees] of angles.entries()) {
    const levels = new Map<number, Level>();
    for (const [i, x] of starts.entries()) {
      const f = levelAt(bench, 'front', x, degrees, 1);
      for (const slide of f.rows ? slides : []) {
        if (control.budget.left === 0) return done();
        await pause(control, (a + i / starts.length) / angles.length);
        const backX = back.middle + turned * (x - front.middle - slide);
        const key = Math.round(1000 * backX);
        const b = levels.get(key) ?? levelAt(bench, 'back', backX, degrees, turned);
        levels.set(key, b);
        if (!f.rows || !b.rows) continue;
        matchGrids(f.grid, b.grid, f.rows, b.rows, floor, (m, n, match, cell) => {
          for (const [w, way] of WAYS.entries()) {
            const cells = best[w] as (Scored | undefined)[];
            if (1 - match >= (cells[cell]?.cost ?? Infinity)) continue;
            const inFront = f.depths[w]?.[Math.floor(m / ROWS)];
            const behind = b.depths[w]?.[Math.floor(n / ROWS)];
            if (!inFront || !behind || !makesTop(inFront, behind, wish)) continue;
            cells[cell] = { ...pairAt(f, b, m, n, degrees, way, turned), cost: 1 - match };
          }
          // What is worse than both found here is not heard of again.
          const worse = Math.max(...best.map((cells) => cells[cell]?.cost ?? 1 - TELLING));
          floor.least[cell] = 1 - worse;
        });
      }
    }
  }
  return done();
}

function pairAt(f: Level, b: Level, m: number, n: number, degrees: number, way: 1 | -1, turned: 1 | -1): Pair {
  return {
    front: { x: f.x, y: f.grid.yOf(m), degrees, way },
    back: { x: b.x, y: b.grid.yOf(n), degrees, way: turned === way ? 1 : -1 },
  };
}
