import { bounds, type Segment } from '../geometry';
import { cellFloor, lineGrid, matchGrids, type Rows } from '../grain';
import { type Control, pause, stage } from '../search';
import type { LookedAt } from './seam-grain';
import { seamLook } from './seam-look';
import { backKeepsMore, type Pair, SeamBench, type SeamSide } from './seam-pair';
import type { SeamPlace } from './seam-place';
import { type LinePlace, lineAt, SeamRoom, type SeamWish } from './seam-room';
import type { FaceStock } from './stock';
import { movedEdge } from './strips';

/**
 * The seam behind a strip whose front edge is settled: its back edge runs parallel to that, so that only the strip's width is left to choose
 * on its slab, and on the slab behind the joint line's place, angle and slide.
 */

/** First steps, halved down to the last, of width and place (mm), slide (mm) and angle (degrees). */
const FIRST = { across: 12, slide: 30, degrees: 1 } as const;
const HALVINGS = 5;
/** So many of the first grid are followed, and so many ends given. */
const FOLLOWED = 6;
/** Where lines are followed: the slide's step, the least match that says something, and the halving that the way down begins with. */
const LINE_SLIDE = 15;
const TELLING = 0.15;
const FINE = 3;
const GIVEN = 3;
/** What wood may lack between two columns, mm. */
const BETWEEN = 0.5;
/** Seams with strips nearer than this in width and place are one, mm. */
const DIFFERENT = 15;

/** A seam behind a strip, and how wide it leaves that. */
export interface SeamBehind extends SeamPlace {
  readonly width: number;
}

/** Which seams are looked for. */
export interface BehindWish {
  readonly length: number;
  /** Width of the strip in front of the seam, which its wood must have. */
  readonly width: readonly [least: number, most: number];
  /** Depth that the wood behind the seam must have for a strip that is `width` wide. */
  least(width: number): number;
  readonly slide: number;
  readonly degrees: number;
  readonly ends: 'same' | 'either';
}

/** A seam by its freedoms: width in front, and on the slab behind place, angle, slide and which way round. */
interface Free {
  readonly width: number;
  readonly y: number;
  readonly degrees: number;
  readonly slide: number;
  readonly turned: 1 | -1;
}
interface Found extends Free {
  readonly cost: number;
}

/** How deep the sound wood behind a strip's front edge is all along it, mm; 0 where the edge itself leaves it. */
export function roomBehind(line: Segment<'face'>, stock: FaceStock, length: number): number {
  const wish: SeamWish = { length, depth: [0, Infinity], front: 'straight', leastStrip: 0, keepOff: 'strip' };
  const place = placeOf(line);
  // Columns of wood are looked at a few millimetres apart: a slanting edge may be a little nearer between them.
  return Math.max(0, (new SeamRoom(stock, wish).depths(place, backKeepsMore(place), false)?.[0] ?? 0) - BETWEEN);
}

/** A line by its middle and angle. */
export function placeOf([[ax, ay], [bx, by]]: Segment<'face'>): LinePlace {
  const way = bx >= ax ? 1 : -1;
  const degrees = (Math.atan2(way * (by - ay), way * (bx - ax)) * 180) / Math.PI;
  return { x: (ax + bx) / 2, y: (ay + by) / 2, degrees, way };
}

const sideOf = (stock: FaceStock, looks: LookedAt[number], wish: SeamWish): SeamSide => {
  const { minX, maxX } = bounds(stock.outline.outer);
  return { features: looks, middle: (minX + maxX) / 2, room: new SeamRoom(stock, wish) };
};

const steps = (from: number, to: number, step: number): number[] =>
  to < from ? [] : Array.from({ length: Math.floor((to - from) / step + 1e-9) + 1 }, (_, i) => from + i * step);

/**
 * The best seams behind a strip on `line`, its joint with the strip in front of it.
 * @param looks both faces made ready together
 * @throws Cancelled
 */
export async function seamsBehind(
  line: Segment<'face'>,
  front: FaceStock,
  back: FaceStock,
  looks: LookedAt,
  wish: BehindWish,
  control: Control,
): Promise<SeamBehind[]> {
  const { length, width, slide, degrees, ends } = wish;
  // Widths are held here: the bench is asked for the look of lines in sound wood.
  const loose: SeamWish = { length, depth: [0, Infinity], front: 'straight', leastStrip: 0, keepOff: 'line' };
  const [inFront, behind] = [sideOf(front, looks[0], loose), sideOf(back, looks[1], { ...loose, keepOff: 'strip' })];
  // The line in front keeps the angle that it was found at, be it rounded over the limit.
  const bench = new SeamBench(inFront, behind, { slide, degrees: degrees + 0.01 });
  const pairOf = (free: Free): Pair => {
    const f = placeOf(movedEdge(line, { by: free.width, turn: 0, slide: 0 }));
    const x = behind.middle + free.turned * (f.x - inFront.middle - f.way * free.slide);
    const way = free.turned === 1 ? f.way : f.way === 1 ? -1 : 1;
    return { front: f, back: { x, y: free.y, degrees: free.degrees, way } };
  };
  const fits = (free: Free, pair: Pair): boolean => {
    if (free.width < width[0] || free.width > width[1]) return false;
    const depths = behind.room.depths(pair.back, backKeepsMore(pair.back), false);
    return depths !== null && depths[0] >= wish.least(free.width);
  };
  const costOf = (free: Free): number => {
    const pair = pairOf(free);
    return fits(free, pair) ? bench.cost(pair) : Infinity;
  };
  const turns: readonly (1 | -1)[] = ends === 'either' ? [1, -1] : [1];
  const byLook = await lookedOver(behind.room, wish, turns, costOf, stage(control, 0, 0.5));
  const byLines = followedLines(looks, pairOf, wish, turns, costOf);
  const ended: Found[] = [];
  const starts = [...byLook.map((start) => [start, 1] as const), ...byLines.map((start) => [start, FINE] as const)];
  for (const [i, [start, first]] of starts.entries()) {
    await pause(control, 0.5 + (0.5 * i) / starts.length);
    ended.push(downhill(start, first, costOf));
  }
  const look = seamLook(looks);
  return distinct(ended).map((free) => {
    const pair = pairOf(free);
    const lines = {
      front: { stock: front, line: lineAt(pair.front, length) },
      back: { stock: back, line: lineAt(pair.back, length) },
    };
    const { blend, lines: match } = look(lines);
    return { ...lines, blend, lines: match, slide: free.slide, flipped: free.turned === -1, width: free.width };
  });
}

/** The cheapest of a coarse grid, one for each place behind. */
async function lookedOver(
  { minY, maxY }: SeamRoom,
  { width, slide, degrees }: BehindWish,
  turns: readonly (1 | -1)[],
  costOf: (free: Free) => number,
  control: Control,
): Promise<Found[]> {
  const found: Found[] = [];
  const ys = steps(minY + FIRST.across, maxY, FIRST.across);
  for (const [i, y] of ys.entries()) {
    await pause(control, i / ys.length);
    let best: Found | null = null;
    for (const turned of turns) {
      for (const angle of steps(-degrees, degrees, FIRST.degrees)) {
        for (const moved of steps(-slide, slide, FIRST.slide)) {
          for (const wide of steps(width[0], width[1], FIRST.across)) {
            const free: Free = { width: wide, y, degrees: angle, slide: moved, turned };
            const cost = costOf(free);
            if (cost < (best?.cost ?? Infinity)) best = { ...free, cost };
          }
        }
      }
    }
    if (best) found.push(best);
  }
  return found.sort((a, b) => a.cost - b.cost).slice(0, FOLLOWED);
}

/**
 * Places over which the figure's lines wander alike on both slabs, both lines at one angle: a millimetre wide, so that a coarse grid steps
 * over them.
 */
function followedLines(
  looks: LookedAt,
  pairOf: (free: Free) => Pair,
  { length, width, slide }: BehindWish,
  turns: readonly (1 | -1)[],
  costOf: (free: Free) => number,
): Found[] {
  const begin: Free = { width: width[0], y: 0, degrees: 0, slide: 0, turned: 1 };
  const { x, y, degrees, way } = pairOf(begin).front;
  const grid = lineGrid(looks[0], x, degrees, way, length);
  // The strip widens towards more y where its line runs with x.
  const widthOf = (row: number): number => width[0] + way * (grid.yOf(row) - y) * Math.cos((degrees * Math.PI) / 180);
  const rows = steps(0, grid.rows - 1, 1).filter((row) => widthOf(row) >= width[0] && widthOf(row) <= width[1]);
  const floor = cellFloor(grid, looks[1], DIFFERENT, TELLING);
  const cells = new Map<number, { free: Free; match: number }>();
  for (const turned of rows.length > 0 ? turns : []) {
    for (const moved of steps(-slide, slide, LINE_SLIDE)) {
      const { back } = pairOf({ ...begin, slide: moved, turned });
      const other = lineGrid(looks[1], back.x, degrees * turned, back.way, length);
      const span: Rows = [rows[0] as number, (rows.at(-1) as number) + 1];
      matchGrids(grid, other, span, [0, other.rows], floor, (i, j, match, cell) => {
        const free: Free = { width: widthOf(i), y: other.yOf(j), degrees: degrees * turned, slide: moved, turned };
        floor.least[cell] = match;
        cells.set(cell, { free, match });
      });
    }
  }
  return [...cells.values()]
    .sort((a, b) => b.match - a.match)
    .map(({ free }) => ({ ...free, cost: costOf(free) }))
    .filter(({ cost }) => Number.isFinite(cost))
    .slice(0, 2 * FOLLOWED);
}

/** Each freedom by itself, then width and place together, by ever smaller steps. */
function downhill(start: Found, first: number, costOf: (free: Free) => number): Found {
  let best = start;
  for (let halving = first; halving <= HALVINGS; halving++) {
    const part = 2 ** -halving;
    const [across, along, turn] = [FIRST.across * part, FIRST.slide * part, FIRST.degrees * part];
    for (let round = 0; round < 3; round++) {
      const before = best.cost;
      for (const [w, y, s, d] of MOVES) {
        const free: Free = {
          ...best,
          width: best.width + (w as number) * across,
          y: best.y + (y as number) * across,
          slide: best.slide + (s as number) * along,
          degrees: best.degrees + (d as number) * turn,
        };
        const cost = costOf(free);
        if (cost < best.cost) best = { ...free, cost };
      }
      if (best.cost === before) break;
    }
  }
  return best;
}

/** Width, place, slide, angle: alone, and the pairs that pull on each other. */
const MOVES: readonly (readonly number[])[] = [
  [1, 0, 0, 0],
  [0, 1, 0, 0],
  [1, 1, 0, 0],
  [1, -1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, 0, 1],
  [0, 1, 1, 0],
  [0, 1, -1, 0],
].flatMap((move) => [move, move.map((by) => -by)]);

function distinct(found: readonly Found[]): Found[] {
  const kept: Found[] = [];
  for (const one of [...found].sort((a, b) => a.cost - b.cost)) {
    const known = kept.some(
      (other) => Math.abs(other.width - one.width) < DIFFERENT && Math.abs(other.y - one.y) < DIFFERENT,
    );
    if (!known && Number.isFinite(one.cost)) kept.push(one);
    if (kept.length === GIVEN) break;
  }
  return kept;
}
