import { broadDistance, readBroad } from '../grain';
import { type Control, pause } from '../search';
import { type Pair, type Scored, type SeamBench, slideOf, stripDepths } from './seam-pair';
import { type Depths, type LinePlace, lineAt, makesTop } from './seam-room';
import { spread } from './spread';

/** Steps of a grid: across the grain, degrees, slide and where along the front slab the top begins. mm */
interface Grid {
  readonly rows: number;
  readonly degrees: number;
  readonly slide: number;
  readonly stations: number;
}
const WIDE: Grid = { rows: 8, degrees: 2, slide: 30, stations: 200 };
/** Where the wood leaves little choice, a wide grid steps over what there is. */
const CLOSE: Grid = { rows: 8, degrees: 1, slide: 20, stations: 100 };
/** With as many pairs of a wide grid there is choice enough. */
const ENOUGH = 48;
/** Of all lines that begin in such a cell on both slabs only the best goes on, mm. */
export const CELL = 24;

interface Line {
  readonly place: LinePlace;
  readonly depths: Depths;
  readonly look: Float32Array;
}

/** Lines of one slab at one x, read. */
function linesAt(bench: SeamBench, side: 'front' | 'back', x: number, way: 1 | -1, grid: Grid): Line[] {
  const { room, features } = bench[side];
  const { wish, minY, maxY } = room;
  const lines: Line[] = [];
  for (const degrees of spread(-bench.limits.degrees, bench.limits.degrees, grid.degrees)) {
    for (let y = minY + grid.rows; y < maxY; y += grid.rows) {
      const place: LinePlace = { x, y, degrees, way };
      const depths = stripDepths(bench[side], side, place);
      if (!depths) continue;
      lines.push({ place, depths, look: readBroad(features, lineAt(place, wish.length), side === 'back') });
    }
  }
  return lines;
}

/**
 * The first sieve: every pair of lines on a coarse grid, by their broad look alone. The best of each cell of both offsets.
 * @param ways which way the lines run on the slab in front and on the one behind
 */
export async function coarsePairs(
  bench: SeamBench,
  ways: readonly [1 | -1, 1 | -1],
  control: Control,
): Promise<Scored[]> {
  const wide = await pairsOn(WIDE, bench, ways, control);
  return wide.length >= ENOUGH ? wide : pairsOn(CLOSE, bench, ways, control);
}

async function pairsOn(
  grid: Grid,
  bench: SeamBench,
  ways: readonly [1 | -1, 1 | -1],
  control: Control,
): Promise<Scored[]> {
  const { front, back, limits, length } = bench;
  const { wish } = front.room;
  const half = length / 2;
  const best = new Map<string, Scored>();
  const backs = new Map<number, Line[]>();
  // A turned line is a little shorter along x.
  const slack = half * (1 - Math.cos((limits.degrees * Math.PI) / 180));
  const starts = spread(front.room.minX + half - slack, front.room.maxX - half + slack, grid.stations);
  const slides = spread(-limits.slide, limits.slide, grid.slide);
  for (const [i, x] of starts.entries()) {
    const fronts = linesAt(bench, 'front', x, ways[0], grid);
    for (const slide of fronts.length > 0 ? slides : []) {
      if (best.size > 0 && control.budget.left === 0) return [...best.values()];
      await pause(control, i / starts.length);
      const turned = ways[0] * ways[1];
      const backX = Math.round(back.middle + turned * (x - front.middle - ways[0] * slide));
      const lines = backs.get(backX) ?? linesAt(bench, 'back', backX, ways[1], grid);
      backs.set(backX, lines);
      for (const f of fronts) for (const b of lines) offer(f, b);
    }
  }
  return [...best.values()];

  function offer(f: Line, b: Line): void {
    if (!makesTop(f.depths, b.depths, wish)) return;
    const key = `${Math.floor(f.place.y / CELL)} ${Math.floor(b.place.y / CELL)}`;
    const have = best.get(key)?.cost ?? Infinity;
    const cost = broadDistance(f.look, b.look, have);
    if (cost >= have) return;
    const pair: Pair = { front: f.place, back: b.place };
    if (Math.abs(slideOf(pair, [front.middle, back.middle])) <= limits.slide + 1e-9) best.set(key, { ...pair, cost });
  }
}
