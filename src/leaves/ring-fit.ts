import { ringShift } from './ring-course';
import { NODE_ROWS, type ShiftCosts } from './shift-costs';

/** Places of the pith at equal steps along the sheet: rows across (from its first row), and below it, mm. */
export interface RingFit {
  readonly pith: number[];
  readonly deep: number[];
  /** Mean likeness at the nodes whose shift it foretells, less what its bends cost. */
  readonly score: number;
}

/** Piths are tried so far apart across, mm, from one width before the sheet to one beyond; depths grow by this ratio between these limits, mm. */
const ACROSS_STEP = 8;
const DEEPEST = 450;
const SHALLOWEST = 8;
const RATIO = 1.15;
/** Starts tried further, no two alike. */
const STARTS = 4;
/** Columns looked at while starts are sought: every so many. */
const EVERY = 5;
/** A place of the pith is free to bend every so many columns (20 mm each). */
const BEND_COLUMNS = 10;
/** What bending costs: a pith that leaves the straight line through its neighbours by this many mm, or by this share of its depth, loses all likeness of a column. */
const BEND_ACROSS = 1000;
const BEND_DEEP = 16;
/** A course must foretell the shift of this share of the nodes. */
const LEAST_KNOWN = 0.3;

/**
 * The course of the pith that foretells best how the figure moves between two faces `depth` mm apart: from a grid over straight, level piths, then
 * by ever smaller steps of the whole, its tilt, and each place of it.
 * @param start a course known from other faces of the board: it is only settled, not sought
 */
export function fitRings(volume: ShiftCosts, depth: number, start?: Pick<RingFit, 'pith' | 'deep'>): RingFit {
  const { columns, rows } = volume;
  const height = rows * NODE_ROWS;
  const places = Math.max(2, Math.round(columns / BEND_COLUMNS) + 1);
  const starts = start ? [start] : gridStarts(volume, depth, height).map((at) => level(at, places));
  return starts
    .map((from) => climbed(volume, depth, height, from, start ? STEPS.slice(SETTLING) : STEPS))
    .reduce((best, one) => (one.score > best.score ? one : best));
}

const level = ({ pith, deep }: Start, places: number) => ({
  pith: new Array<number>(places).fill(pith),
  deep: new Array<number>(places).fill(deep),
});

/** Mean likeness in one column, were the pith there. */
function scoreAt(volume: ShiftCosts, depth: number, height: number, c: number, pith: number, deep: number): number {
  const { rows, shifts, step, costs } = volume;
  const middle = (shifts - 1) / 2;
  let [sum, known] = [0, 0];
  for (let r = 0; r < rows; r++) {
    const y = r * NODE_ROWS;
    const shift = ringShift(y - pith, deep, depth);
    const k = shift / step + middle;
    if (!(k >= 0 && k <= shifts - 1) || y + shift < 0 || y + shift > height) continue;
    const whole = Math.min(shifts - 2, Math.floor(k));
    const at = (c * rows + r) * shifts + whole;
    const f = k - whole;
    sum += 1 - (costs[at] as number) * (1 - f) - (costs[at + 1] as number) * f;
    known++;
  }
  return known < LEAST_KNOWN * rows ? -1 : sum / (known + 0.1 * rows);
}

interface Start {
  readonly pith: number;
  readonly deep: number;
}

/** The best level courses, each unlike the others. */
function gridStarts(volume: ShiftCosts, depth: number, height: number): Start[] {
  const all: (Start & { score: number })[] = [];
  for (let size = SHALLOWEST; size < DEEPEST; size *= RATIO) {
    for (const deep of [size, -size]) {
      for (let pith = -height; pith <= 2 * height; pith += ACROSS_STEP) {
        let score = 0;
        for (let c = 0; c < volume.columns; c += EVERY) score += scoreAt(volume, depth, height, c, pith, deep);
        all.push({ pith, deep, score });
      }
    }
  }
  all.sort((a, b) => b.score - a.score);
  const kept: Start[] = [];
  const unlike = (a: Start) => (b: Start) =>
    Math.abs(a.pith - b.pith) > 3 * ACROSS_STEP ||
    !(a.deep / b.deep < 1.2 && b.deep / a.deep < 1.2 && a.deep / b.deep > 0);
  for (const one of all) {
    if (kept.every(unlike(one))) kept.push(one);
    if (kept.length === STARTS) break;
  }
  return kept;
}

/** Sizes of steps: mm across, and share of the depth. */
const STEPS = [16, 8, 4, 2, 1].map((across) => [across, across / 100] as const);
/** A course that is known is settled by the steps from this one on: its depth cannot double, which would be another leaf's drift. */
const SETTLING = 4;
/** Rounds of steps of one size. */
const ROUNDS = 4;

function climbed(
  volume: ShiftCosts,
  depth: number,
  height: number,
  start: Pick<RingFit, 'pith' | 'deep'>,
  steps: readonly (readonly [across: number, share: number])[],
): RingFit {
  const { columns } = volume;
  const last = start.pith.length - 1;
  const total = (pith: readonly number[], deep: readonly number[]): number => {
    let sum = 0;
    for (let c = 0; c < columns; c++) {
      const at = (c / Math.max(1, columns - 1)) * last;
      const i = Math.min(last - 1, Math.floor(at));
      const f = at - i;
      const mix = (v: readonly number[]) => (v[i] as number) * (1 - f) + (v[i + 1] as number) * f;
      sum += scoreAt(volume, depth, height, c, mix(pith), mix(deep));
    }
    let bend = 0;
    for (let i = 1; i < last; i++) {
      const off = (v: readonly number[]) =>
        Math.abs((v[i - 1] as number) - 2 * (v[i] as number) + (v[i + 1] as number));
      bend += off(pith) / BEND_ACROSS + off(deep) / (BEND_DEEP * Math.abs(deep[i] as number));
    }
    return sum / columns - bend / Math.max(1, last);
  };
  let best = { pith: [...start.pith], deep: [...start.deep], score: total(start.pith, start.deep) };
  const moves: ((i: number) => number)[] = [
    () => 1,
    (i) => (2 * i) / last - 1,
    ...start.pith.map((_, at) => (i: number) => (i === at ? 1 : 0)),
  ];
  for (const [across, share] of steps) {
    for (let round = 0; round < ROUNDS; round++) {
      const before = best.score;
      for (const weight of moves) {
        for (const [dp, dd] of [
          [across, 0],
          [-across, 0],
          [0, share],
          [0, -share],
        ] as const) {
          const pith = best.pith.map((p, i) => p + weight(i) * dp);
          const deep = best.deep.map((d, i) => d * (1 + weight(i) * dd));
          const score = total(pith, deep);
          if (score > best.score + 1e-9) best = { pith, deep, score };
        }
      }
      if (best.score === before) break;
    }
  }
  return best;
}
