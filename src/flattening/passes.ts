import { type Polygon, ringArea } from '../geometry';
import type { Sled } from '../job';
import { InputProblem } from '../units';
import { mostRpm } from '../wood';
import { areaShare, type Cell } from './cells';
import type { Fitting } from './machines';

/** A last pass is at least this light cut, mm, where the face needs more than one: thinner ones only rub (practice, no source). */
const LIGHT = 0.5;
/** Less than this off a face is no pass, mm: what is printed would be 0. */
const NOTHING = 0.001;
const MM3_PER_LITRE = 1e6;
const MM_PER_M = 1000;
/** More passes than this are a slip of the finger, in the readings or in the depth. */
const MOST_PASSES = 10_000;

/** Cutting edges of a surfacing bit where none are given (practice, no source). */
const EDGES = 2;

/** What it takes to flatten one face. */
export interface FaceWork {
  /** What it is done with; 'none' where the face is flat enough already. */
  readonly tool: 'sled' | Fitting['tool'] | 'none';
  readonly passes: readonly { readonly depth: number; readonly contact: number }[];
  readonly strokes: number;
  readonly removed: number;
  readonly minutes: number;
  /** Way of the bit over all passes, m, and how much of it meets wood. */
  readonly metres: number;
  readonly cutting: number;
  /** Litres of loose chips. */
  readonly chips: number;
  /** What the bit has to do at most; null without a bit. */
  readonly load: BitLoad | null;
}

/** Work of a surfacing bit at its deepest pass. */
export interface BitLoad {
  /** Wood cut away in a second, mm3. */
  readonly rate: number;
  /** Turns a minute: as set, or the most that a bit of this diameter may turn; null where neither is known. */
  readonly rpm: number | null;
  /** Thickness of a chip in the direction of feed, mm. */
  readonly perEdge: number | null;
}

/** What one face takes, told where nothing is to be taken. */
const IDLE = {
  tool: 'none',
  passes: [],
  strokes: 0,
  removed: 0,
  minutes: 0,
  metres: 0,
  cutting: 0,
  chips: 0,
  load: null,
} as const;

/**
 * Depths of the passes that take `removal` mm: as few as the sled's depth allows, full ones first, the last one light.
 * Passes = removal / depth, rounded up.
 * @throws InputProblem when they are more than anyone would make
 */
function passDepths(removal: number, depth: number, where: string): number[] {
  if (removal <= NOTHING) return [];
  const count = Math.max(1, Math.ceil(removal / depth - 1e-9));
  if (count > MOST_PASSES)
    throw new InputProblem(
      `Flattening would take ${count} passes.`,
      where,
      'Check the readings, and the depth that one pass takes, in mm.',
    );
  const rest = removal - (count - 1) * depth;
  const last = count === 1 ? rest : Math.max(rest, Math.min(LIGHT, removal / count));
  const depths = new Array<number>(count).fill(depth);
  depths[count - 1] = last;
  if (count > 1) depths[count - 2] = depth - (last - rest);
  return depths;
}

/** A face over its finished plane. */
export interface Standing {
  readonly polygon: Polygon<'face'>;
  readonly cells: readonly Cell[];
  /** What stands over the plane in the middle of each cell, mm. */
  readonly removals: Float64Array;
  /** What stands over it at the highest spot, mm. */
  readonly most: number;
}

/**
 * Passes, strokes and time for one face on the sled. Strokes of a pass = (width - bit) / stepover, rounded up, and one more; each
 * runs the blank's length and the bit's diameter.
 * @param bulk room that loose chips take, in times the wood's own
 */
export function sledWork(face: Standing, sled: Sled, bulk: number): FaceWork {
  const passes = passesOf(face, sled.depth, '/sled/depth');
  if (passes.length === 0) return IDLE;
  const [length, width] = sidesOf(face.polygon);
  const step = sled.stepover * sled.bit;
  const strokes = Math.ceil(Math.max(0, width - sled.bit) / step - 1e-9) + 1;
  const way = passes.length * strokes * (length + sled.bit);
  const area = face.cells.reduce((sum, cell) => sum + cell.area, 0);
  const met = passes.reduce((sum, { contact }) => sum + contact, 0) * area;
  const removed = removedFrom(face);
  const rpm = sled.rpm ?? mostRpm(sled.bit);
  return {
    tool: 'sled',
    passes,
    strokes,
    removed,
    minutes: way / sled.feed / 60,
    metres: way / MM_PER_M,
    cutting: Math.min(way, met / step) / MM_PER_M,
    chips: removed * bulk,
    load: {
      rate: Math.max(...passes.map(({ depth }) => depth)) * step * sled.feed,
      rpm,
      perEdge: rpm === null ? null : sled.feed / ((rpm / 60) * (sled.edges ?? EDGES)),
    },
  };
}

/** The same for a face that a planer or drum sander makes: one stroke a pass, over the whole width at once. */
export function machineWork(face: Standing, { tool, machine }: Fitting, bulk: number): FaceWork {
  const passes = passesOf(face, machine.depth, '/shop/planer/depth');
  if (passes.length === 0) return IDLE;
  const [length] = sidesOf(face.polygon);
  const way = passes.length * length;
  const removed = removedFrom(face);
  return {
    tool,
    passes,
    strokes: 1,
    removed,
    minutes: way / machine.feed / 60,
    metres: way / MM_PER_M,
    cutting: way / MM_PER_M,
    chips: removed * bulk,
    load: null,
  };
}

function passesOf({ cells, removals, most }: Standing, depth: number, where: string): FaceWork['passes'] {
  let left = Math.max(0, most);
  return passDepths(most, depth, where).map((each) => {
    left -= each;
    return { depth: each, contact: areaShare(cells, (_, i) => (removals[i] as number) > left + NOTHING) };
  });
}

/** Litres of wood that stand over the plane. */
function removedFrom({ cells, removals }: Standing): number {
  return cells.reduce((sum, { area }, i) => sum + area * Math.max(0, removals[i] as number), 0) / MM3_PER_LITRE;
}

/** Length and width of the smallest rectangle along one of the blank's edges that holds it. */
export function sidesOf(polygon: Polygon<'face'>): readonly [length: number, width: number] {
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
