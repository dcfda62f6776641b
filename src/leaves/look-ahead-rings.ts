import type { Point } from '../geometry';
import { type Control, pause } from '../search';
import type { FaceFigure } from './drift';
import type { RingCourse } from './drift-types';
import { pithAt, ringShift } from './ring-course';
import { NODE_ROWS, NODE_STATIONS, type Sheet, type ShiftCosts, shiftCosts } from './shift-costs';
import { smoothShifts } from './smooth-shifts';

/** The angle of the rings at an end of the board, read where they come out on the upper face. */
export interface EndReading {
  /** Its place across, in the frame of the upper face, mm. */
  readonly across: number;
  /** Between the rings and the face, -90..90 degrees: more than 0 where they go down toward more y, as to the right of a pith that lies below. */
  readonly degrees: number;
}

/** What is known of the rings before any cut. */
export interface KnownRings {
  /** At least one; two or more, well apart, place the pith. */
  readonly readings: readonly EndReading[];
  /** Where the pith runs in or under the upper face, in its frame; null where it is not known. */
  readonly pith: readonly Point<'face'>[] | null;
}

/** Rings that join two faces of a board: their course, and what of the drift between the faces it does not foretell. */
export interface JoinedRings {
  readonly rings: RingCourse;
  /** mm toward more y on the far face, at a place of the upper one. */
  rest(x: number, y: number): number;
  /** How alike the two faces are along the rings, 0..1, and how smoothly: what the course was chosen by. */
  readonly likeness: number;
}

/** What rings that are not round may leave over a whole board, mm. */
const REST = 14;
/** What a mm of unevenness from node to node costs, in likeness: the course that leaves the smoothest rest is the rings' own. */
const UNEVEN = 0.1;
/** Share of the upper face whose rings must come out on the far one. */
const LEAST_JOINED = 0.35;
/** An end is read to some degrees: depths of the pith in these proportions to what is read are tried. */
const DEPTHS = [1, 0.8, 0.88, 0.94, 1.07, 1.15, 1.25];
/** Rings of which one angle is known are taken to be as round as about a pith so far away, mm: almost straight. */
const STRAIGHT = 1000;
/** Rings steeper than this, degrees, do not move across within a board. */
const STEEPEST = 89;
/** Steps by which the best course is settled: mm across, share of depth. */
const SETTLE = [
  [12, 0.06],
  [6, 0.03],
] as const;
/** Far outside: the ring does not reach the other face. */
const NOWHERE = 1e4;

/**
 * Finds the rings that join both faces of a board. Over a whole board a ring may be taken for its neighbour, so courses are held against each other not
 * by likeness alone but by how evenly the rest of the drift then runs, and only near what the end grain tells.
 * @param a the upper face, b the far one laid on it
 * @throws Cancelled
 */
export async function joinedRings(
  a: FaceFigure,
  b: Sheet,
  thickness: number,
  known: KnownRings,
  control: Control,
): Promise<JoinedRings> {
  const x = (station: number) => a.x0 + (station + 0.5) * a.station;
  const worth = (rings: RingCourse) => {
    const costs = restCosts(a, b, rings, thickness, x);
    return worthOf(costs, smoothShifts(costs));
  };
  const told = courseTold(a, known);
  const all = DEPTHS.map((share) => ({ ...told, deep: told.deep.map((d) => share * d) }));
  let best = { rings: all[0] as RingCourse, worth: -Infinity };
  for (const [i, rings] of all.entries()) {
    await pause(control, (0.8 * i) / all.length, 'Following the rings through the board');
    const value = worth(rings);
    if (value > best.worth) best = { rings, worth: value };
  }
  for (const [i, [across, share]] of SETTLE.entries()) {
    await pause(control, 0.8 + (0.15 * i) / SETTLE.length);
    for (const [dp, dd] of [
      [across, 0],
      [-across, 0],
      [0, share],
      [0, -share],
    ] as const) {
      const rings = {
        ...best.rings,
        pith: best.rings.pith.map((p) => p + dp),
        deep: best.rings.deep.map((d) => d * (1 + dd)),
      };
      const value = worth(rings);
      if (value > best.worth) best = { rings, worth: value };
    }
  }
  const costs = restCosts(a, b, best.rings, thickness, x);
  const field = smoothShifts(costs);
  const { columns, rows } = costs;
  const rest = (px: number, py: number): number => {
    const u = Math.max(0, Math.min(columns - 1, (px - x(0)) / (NODE_STATIONS * a.station)));
    const v = Math.max(0, Math.min(rows - 1, (py - a.y0 - 0.5) / NODE_ROWS));
    const [c, r] = [Math.min(columns - 2, Math.floor(u)), Math.min(rows - 2, Math.floor(v))];
    const at = (i: number, k: number) => field[(c + i) * rows + r + k] as number;
    const [p, q] = [u - c, v - r];
    return (1 - p) * ((1 - q) * at(0, 0) + q * at(0, 1)) + p * ((1 - q) * at(1, 0) + q * at(1, 1));
  };
  return { rings: best.rings, rest, likeness: likenessOf(costs, field).alike };
}

/** The course that readings at an end and the pith's line tell. */
function courseTold(a: FaceFigure, { readings, pith }: KnownRings): RingCourse {
  const [from, to] = [a.x0, a.x0 + a.stations * a.station];
  const slopes = readings.map(({ across, degrees }) => {
    const within = Math.max(-STEEPEST, Math.min(STEEPEST, degrees));
    return { across, slope: Math.tan((within * Math.PI) / 180) };
  });
  const line = pith && pith.length > 1 ? [...pith].sort((p, q) => p[0] - q[0]) : null;
  if (line) {
    const across = sampled(line, from, to);
    const middle = across[Math.floor(across.length / 2)] as number;
    // slope = (y - pith) / deep at every reading: least squares over 1 / deep.
    const sum = (of: (y: number, slope: number) => number) =>
      slopes.reduce((all, { across: y, slope }) => all + of(y - middle, slope), 0);
    const curve =
      sum((y, slope) => y * slope) /
      Math.max(
        1e-9,
        sum((y) => y * y),
      );
    const deep = Math.abs(curve) > 1 / STRAIGHT ? 1 / curve : Math.sign(curve || 1) * STRAIGHT;
    return { from, to, pith: across, deep: across.map(() => deep) };
  }
  const mean = (of: (one: { across: number; slope: number }) => number) =>
    slopes.reduce((all, one) => all + of(one), 0) / slopes.length;
  const [y, slope] = [mean(({ across }) => across), mean((one) => one.slope)];
  const spread = mean(({ across }) => (across - y) ** 2);
  const curve = spread > 1 ? mean((one) => (one.across - y) * (one.slope - slope)) / spread : 0;
  const deep = Math.abs(curve) > 1 / STRAIGHT ? 1 / curve : Math.sign(curve || 1) * STRAIGHT;
  const across = y - slope * deep;
  return { from, to, pith: [across, across], deep: [deep, deep] };
}

/** Places of a line across, at equal steps along; beyond its ends it goes on level. */
function sampled(line: readonly Point<'face'>[], from: number, to: number): number[] {
  const many = 9;
  return Array.from({ length: many }, (_, i) => {
    const x = from + ((to - from) * i) / (many - 1);
    const k = line.findIndex(([px]) => px >= x);
    if (k === 0) return (line[0] as Point<'face'>)[1];
    if (k < 0) return (line.at(-1) as Point<'face'>)[1];
    const [p, q] = [line[k - 1], line[k]] as [Point<'face'>, Point<'face'>];
    return p[1] + ((q[1] - p[1]) * (x - p[0])) / Math.max(1e-9, q[0] - p[0]);
  });
}

function restCosts(
  a: FaceFigure,
  b: Sheet,
  rings: RingCourse,
  thickness: number,
  x: (j: number) => number,
): ShiftCosts {
  const courses = Array.from({ length: a.stations }, (_, j) => pithAt(rings, x(j)));
  return shiftCosts(a, b, REST, (j, r) => {
    const [pith, deep] = courses[j] as readonly [number, number];
    const shift = ringShift(a.y0 + r + 0.5 - pith, deep, thickness);
    return Number.isNaN(shift) ? NOWHERE : shift;
  });
}

/** What a course is worth: how alike the faces are along it and over how much of them, less what its rest's unevenness costs; nothing where it joins too little of them. */
function worthOf(costs: ShiftCosts, field: Float32Array): number {
  const { columns, rows } = costs;
  const { alike, known } = likenessOf(costs, field);
  if (known < LEAST_JOINED) return Number.NEGATIVE_INFINITY;
  let uneven = 0;
  for (let c = 0; c < columns; c++)
    for (let r = 1; r < rows; r++)
      uneven += Math.abs((field[c * rows + r] as number) - (field[c * rows + r - 1] as number));
  return alike * known - (UNEVEN * uneven) / (columns * (rows - 1));
}

/** Mean likeness at the chosen shifts, over the nodes whose ring reaches the other face; and what share those are. */
function likenessOf({ columns, rows, shifts, step, costs }: ShiftCosts, field: Float32Array) {
  let [sum, count] = [0, 0];
  for (let i = 0; i < columns * rows; i++) {
    const k = Math.max(0, Math.min(shifts - 1, Math.round((field[i] as number) / step + (shifts - 1) / 2)));
    const cost = costs[i * shifts + k] as number;
    // Exactly 1 is where nothing is known.
    if (cost === 1) continue;
    sum += 1 - cost;
    count++;
  }
  return { alike: sum / Math.max(1, count), known: count / (columns * rows) };
}
