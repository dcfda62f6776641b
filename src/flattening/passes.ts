import { type Polygon, ringArea } from '../geometry';
import type { Sled } from '../job';
import { InputProblem } from '../units';
import { areaShare, type Cell } from './cells';

/** A last pass is at least this light cut, mm, where the face needs more than one: thinner ones only rub (practice, no source). */
const LIGHT = 0.5;
/** Less than this off a face is no pass, mm: what is printed would be 0. */
const NOTHING = 0.001;
const MM3_PER_LITRE = 1e6;
/** More passes than this are a slip of the finger, in the readings or in the depth. */
const MOST_PASSES = 10_000;

/** What it takes to flatten one face. */
export interface FaceWork {
  readonly passes: readonly { readonly depth: number; readonly contact: number }[];
  readonly strokes: number;
  readonly removed: number;
  readonly minutes: number;
}

/**
 * Depths of the passes that take `removal` mm: as few as the sled's depth allows, full ones first, the last one light.
 * Passes = removal / depth, rounded up.
 * @throws InputProblem when they are more than anyone would make
 */
function passDepths(removal: number, depth: number): number[] {
  if (removal <= NOTHING) return [];
  const count = Math.max(1, Math.ceil(removal / depth - 1e-9));
  if (count > MOST_PASSES)
    throw new InputProblem(
      `Flattening would take ${count} passes.`,
      '/sled/depth',
      'Check the readings, and the depth that one pass takes, in mm.',
    );
  const rest = removal - (count - 1) * depth;
  const last = count === 1 ? rest : Math.max(rest, Math.min(LIGHT, removal / count));
  const depths = new Array<number>(count).fill(depth);
  depths[count - 1] = last;
  if (count > 1) depths[count - 2] = depth - (last - rest);
  return depths;
}

/**
 * Passes, strokes and time for one face. Strokes of a pass = (width - bit) / stepover, rounded up, and one more; each runs the
 * blank's length and the bit's diameter.
 * @param removals what stands over the finished plane in the middle of each cell, mm
 * @param most what stands over it at the highest spot, mm
 */
export function faceWork(
  polygon: Polygon<'face'>,
  cells: readonly Cell[],
  removals: Float64Array,
  most: number,
  sled: Sled,
): FaceWork {
  const depths = passDepths(most, sled.depth);
  let left = Math.max(0, most);
  const passes = depths.map((depth) => {
    left -= depth;
    return { depth, contact: areaShare(cells, (_, i) => (removals[i] as number) > left + NOTHING) };
  });
  if (passes.length === 0) return { passes, strokes: 0, removed: 0, minutes: 0 };
  const [length, width] = sidesOf(polygon);
  const strokes = Math.ceil(Math.max(0, width - sled.bit) / (sled.stepover * sled.bit) - 1e-9) + 1;
  const volume = cells.reduce((sum, { area }, i) => sum + area * Math.max(0, removals[i] as number), 0);
  const minutes = (passes.length * strokes * (length + sled.bit)) / sled.feed / 60;
  return { passes, strokes, removed: volume / MM3_PER_LITRE, minutes };
}

/** Length and width of the smallest rectangle along one of the blank's edges that holds it. */
function sidesOf(polygon: Polygon<'face'>): readonly [length: number, width: number] {
  let best: readonly [number, number] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  polygon.forEach(([x, y], i) => {
    const [nextX, nextY] = polygon[(i + 1) % polygon.length] as readonly [number, number];
    const length = Math.hypot(nextX - x, nextY - y);
    if (length === 0) return;
    const [cos, sin] = [(nextX - x) / length, (nextY - y) / length];
    const along = extent(polygon.map((p) => p[0] * cos + p[1] * sin));
    const across = extent(polygon.map((p) => p[1] * cos - p[0] * sin));
    if (along * across < best[0] * best[1]) best = [Math.max(along, across), Math.min(along, across)];
  });
  return ringArea(polygon) === 0 ? [0, 0] : best;
}

const extent = (us: readonly number[]): number => Math.max(...us) - Math.min(...us);
