import type { Segment } from '../geometry';
import type { Joint } from '../job';
import { type Control, pause } from '../search';
import { type JointMove, type Lines, movedLines } from './moved-lines';

/**
 * A joint found again near where it is: on rough faces it is provisional, since planing moves the figure (DESIGN 5.3); once the flat faces are
 * photographed it may still move within the wood that was left for it.
 */

/** First all offsets and slides within reach, mm; their steps. A seam that goes through is lost a millimetre beside it, and some eight along it. */
const FIRST = { by: 1, slide: 8 } as const;
/** Then downhill in all freedoms from the best so many, by steps that get finer: mm, degrees, mm. */
const FOLLOWED = 5;
const FINER = [
  { by: 0.5, turn: 0.08, slide: 2.5 },
  { by: 0.25, turn: 0.04, slide: 1 },
  { by: 0.1, turn: 0.02, slide: 0.5 },
] as const;
const ROUNDS = 4;

type Freedom = readonly [side: 0 | 1, key: 'by' | 'turn' | 'slide'];

/** What may move: of a plain seam both offsets, both angles and the slide; of a rip both edges turn together; a book has one line and its mirror image. */
const FREEDOMS: Readonly<Record<NonNullable<Joint['made']> | 'seam', readonly Freedom[]>> = {
  seam: [
    [0, 'by'],
    [1, 'by'],
    [0, 'turn'],
    [1, 'turn'],
    [1, 'slide'],
  ],
  reglued: [
    [0, 'by'],
    [1, 'by'],
    [0, 'turn'],
    [1, 'slide'],
  ],
  book: [
    [0, 'by'],
    [0, 'turn'],
    [0, 'slide'],
  ],
};

/** Moves of both lines, one after the other. */
type Moves = readonly [JointMove, JointMove];

/** Moves that leave a joint where it is. */
const STILL: Moves = [
  { side: 0, by: 0, turn: 0, slide: 0 },
  { side: 1, by: 0, turn: 0, slide: 0 },
];

/** Both lines of a joint after moves. */
export const linesAfter = (lines: Lines, made: Joint['made'], moves: readonly JointMove[]): Lines =>
  moves.reduce((at: Lines, move) => movedLines(at, made, move), lines);

interface Tried {
  readonly moves: Moves;
  readonly cost: number;
}

function changed(moves: Moves, freedom: Freedom | undefined, by: number): Moves {
  if (!freedom || by === 0) return moves;
  const [side, key] = freedom;
  const own = moves[side];
  const next = { ...own, [key]: own[key] + by };
  return side === 0 ? [next, moves[1]] : [moves[0], next];
}

/** How far an end of a joint line may move, mm. */
interface Reach {
  /** Square to the joint. */
  readonly across: number;
  readonly along: number;
}

/** Rounding of angles and lengths, mm. */
const ROUNDING = 1e-6;

/** Whether both ends of a line lie within reach of where they were. */
function isNear([a, b]: Segment<'face'>, line: Segment<'face'>, { across, along }: Reach): boolean {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  return ([a, b] as const).every(([x, y], i) => {
    const [px, py] = line[i] as readonly [number, number];
    const [dx, dy] = [px - x, py - y];
    return Math.abs(dx * ux + dy * uy) <= along + ROUNDING && Math.abs(dy * ux - dx * uy) <= across + ROUNDING;
  });
}

/**
 * The best places of a joint near where it is, best first, its own among them. Deterministic.
 * @param cost how little both lines go together; Infinity where they cannot be told
 * @throws Cancelled
 */
export async function placesNear(
  lines: Lines,
  made: Joint['made'],
  cost: (lines: Lines) => number,
  reach: Reach,
  control: Control,
): Promise<Moves[]> {
  const freedoms = FREEDOMS[made ?? 'seam'];
  const tried = (moves: Moves): Tried => {
    const at = linesAfter(lines, made, moves);
    const near = ([0, 1] as const).every((i) => isNear(lines[i], at[i], reach));
    return { moves, cost: near ? cost(at) : Infinity };
  };
  const still = tried(STILL);
  const grid: Tried[] = [still];
  const offsets = freedoms.filter(([, key]) => key === 'by');
  const slides = freedoms.filter(([, key]) => key === 'slide');
  const steps = (within: number, step: number): number[] => {
    const count = Math.floor(within / step);
    return Array.from({ length: 2 * count + 1 }, (_, i) => (i - count) * step);
  };
  const rows = steps(reach.across, FIRST.by);
  for (const [i, by] of rows.entries()) {
    await pause(control, (0.6 * i) / rows.length);
    for (const other of offsets[1] ? rows : [0])
      for (const slide of steps(reach.along, FIRST.slide))
        grid.push(tried(changed(changed(changed(STILL, offsets[0], by), offsets[1], other), slides[0], slide)));
  }
  const starts = apart(grid, FOLLOWED);
  const found: Tried[] = [still];
  for (const [i, start] of starts.entries()) {
    await pause(control, 0.6 + (0.4 * i) / starts.length);
    found.push(FINER.reduce((from, finer) => downhill(from, freedoms, finer, tried), start));
  }
  const ranked = found.filter(({ moves, cost: of }) => Number.isFinite(of) || moves === STILL);
  return ranked.sort((a, b) => a.cost - b.cost).map(({ moves }) => moves);
}

/** The cheapest of a grid, none beside a cheaper one. */
function apart(grid: readonly Tried[], most: number): Tried[] {
  const kept: Tried[] = [];
  const beside = (a: Tried, b: Tried): boolean =>
    ([0, 1] as const).every((i) => Math.abs(a.moves[i].by - b.moves[i].by) <= FIRST.by);
  for (const one of [...grid].sort((a, b) => a.cost - b.cost)) {
    if (kept.length === most || !Number.isFinite(one.cost)) break;
    if (!kept.some((other) => beside(one, other))) kept.push(one);
  }
  return kept;
}

/** Downhill by single freedoms and by two at once, since offset, turn and slide pull on each other, until none helps. */
function downhill(
  start: Tried,
  freedoms: readonly Freedom[],
  finer: (typeof FINER)[number],
  tried: (moves: Moves) => Tried,
): Tried {
  let best = start;
  const step = (moves: Moves, freedom: Freedom, sign: number): Moves =>
    changed(moves, freedom, sign * finer[freedom[1]]);
  for (let round = 0; round < ROUNDS; round++) {
    const from = best;
    freedoms.forEach((one, i) => {
      for (const sign of [1, -1]) {
        const alone = tried(step(best.moves, one, sign));
        if (alone.cost < best.cost - 1e-9) best = alone;
        for (const other of freedoms.slice(i + 1))
          for (const with_ of [1, -1]) {
            const both = tried(step(step(best.moves, one, sign), other, with_));
            if (both.cost < best.cost - 1e-9) best = both;
          }
      }
    });
    if (best === from) break;
  }
  return best;
}
