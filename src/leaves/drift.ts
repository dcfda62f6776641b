import { bounds, type Point, type Polygon } from '../geometry';
import { type Figure, figuresOf, STATION } from '../grain';
import { type Drift, type Lie, type PicturedFace, type RingCourse, turnsOf } from './drift-types';
import { pithAt, ringShift } from './ring-course';
import { fitRings } from './ring-fit';
import { between, NODE_ROWS, NODE_STATIONS, type Sheet, type ShiftCosts, shiftCosts } from './shift-costs';
import { smoothShifts } from './smooth-shifts';

/** A face's figure with the middle of its outline: what drifts are measured between. */
export interface FaceFigure extends Figure {
  readonly middle: readonly [number, number];
  /** Distance between its stations, mm. */
  readonly station: number;
}

/** Shifts looked at while the rings' course is sought, mm: rings nearer to level than it shows move farther, and are lost. */
const REACH = 30;
/** What rings that are not round may add to it, mm. */
const REST = 5;
/** No ring moves farther than this, mm: nearer to the pith's line there is no telling. */
const FARTHEST = 60;
/** How far one picture may be set off along the grain from another, mm, and steps of that. */
const ALONG = 10;
const ALONG_STEP = 2.5;

/** Figures of faces of one board, read once for all drifts between them. */
export function faceFigures(faces: readonly PicturedFace[]): FaceFigure[] {
  const read = figuresOf(
    faces.map(({ picture, outline, defects }) => ({ picture, outline: { outer: outline, holes: [] }, defects })),
  );
  return read.map((figure, i) => withMiddle(figure, (faces[i] as PicturedFace).outline));
}

/** A figure with the middle of its face. */
export function withMiddle({ x0, y0, stations, rows, lines }: Figure, outline: Polygon<'face'>): FaceFigure {
  const box = bounds(outline);
  return {
    x0,
    y0,
    stations,
    rows,
    lines,
    station: STATION,
    middle: [(box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2],
  };
}

/**
 * Measures how the figure drifts from one face to another that lies `depth` mm behind it: the rings' course that foretells it best, and then what of
 * it is left, place by place. A kerf's drift is known without the rings; over a leaf and more a ring would be taken for its neighbour.
 * @param lie how the second face was photographed against the first
 * @param course rings known from a nearer pair of the same board, to begin from
 */
export function measureDrift(
  a: FaceFigure,
  b: FaceFigure,
  depth: number,
  lie: Lie = 'same',
  course?: RingCourse,
): Drift {
  const sheet = laidOn(a, b, lie);
  const rings = courseOf(a, shiftCosts(a, sheet, REACH), depth, course);
  const expected = foretold(a, rings, depth);
  const rest = shiftCosts(a, sheet, REST, expected);
  const field = {
    x0: a.x0 + 0.5 * a.station,
    y0: a.y0 + 0.5,
    stepX: NODE_STATIONS * a.station,
    stepY: NODE_ROWS,
    columns: rest.columns,
    rows: rest.rows,
    across: smoothShifts(rest),
  };
  const whole = { lie, middles: [a.middle, b.middle] as const, depth, rings, rest: field, along: 0 };
  const kinship = likeness(a, sheet, expected);
  const moved = (station: number, row: number): number =>
    expected(station, row) + restAt(field, a.x0 + (station + 0.5) * a.station, a.y0 + row + 0.5);
  let best = { along: 0, likeness: likeness(a, sheet, moved) };
  for (let along = -ALONG; along <= ALONG; along += ALONG_STEP) {
    if (along === 0) continue;
    const like = likeness(a, laidOn(a, b, lie, along), moved);
    if (like > best.likeness) best = { along, likeness: like };
  }
  return { ...whole, ...best, kinship };
}

/** The same figure with stations twice as far apart: enough to tell whether two faces belong together. */
export function coarser(figure: FaceFigure): FaceFigure {
  const stations = Math.floor(figure.stations / 2);
  const { rows } = figure;
  const lines = new Float32Array(stations * rows);
  for (let j = 0; j < stations; j++) {
    for (let r = 0; r < rows; r++) {
      const [p, q] = [figure.lines[2 * j * rows + r] as number, figure.lines[(2 * j + 1) * rows + r] as number];
      lines[j * rows + r] = p !== 0 && q !== 0 ? (p + q) / 2 : 0;
    }
  }
  return { ...figure, stations, lines, station: 2 * figure.station };
}

/** What the rings alone say of two faces. */
export interface Kinship {
  readonly rings: RingCourse;
  /** Likeness with the rings' own drift allowed for, as `Drift.kinship`. */
  readonly kinship: number;
}

/**
 * The rings' course between two faces and how alike it makes them, without measuring what is left: much quicker than `measureDrift`.
 * @returns asks it for a depth (mm; less than 0: the second lies before the first), from a course that is known where one is given
 */
export function ringsBetween(a: FaceFigure, b: FaceFigure, lie: Lie): (depth: number, course?: RingCourse) => Kinship {
  const sheet = laidOn(a, b, lie);
  const costs = shiftCosts(a, sheet, REACH);
  return (depth, course) => {
    const rings = courseOf(a, costs, depth, course);
    return { rings, kinship: likeness(a, sheet, foretold(a, rings, depth)) };
  };
}

/** How alike two faces are by a course of the rings just as it is given, a depth apart: a first look, quicker by far than `ringsBetween`. */
export function likenessBy(a: FaceFigure, b: FaceFigure, lie: Lie): (depth: number, course: RingCourse) => number {
  const sheet = laidOn(a, b, lie);
  return (depth, course) => likeness(a, sheet, foretold(a, course, depth));
}

/** mm across the grain, toward more y, by which the figure at (x, y) of the first face has moved on the second. */
export const acrossAt = (drift: Drift, x: number, y: number): number =>
  ringDrift(drift.rings, drift.depth, x, y) + restAt(drift.rest, x, y);

/** The part of it that the rings' course alone foretells. */
export const ringAcross = ({ rings, depth }: Drift, x: number, y: number): number => ringDrift(rings, depth, x, y);

/** Where the second face, in its own picture's frame, shows what the first shows at (x, y). */
export function placeBehind(drift: Drift, [x, y]: Point<'face'>): Point<'face'> {
  const [[ax, ay], [bx, by]] = drift.middles;
  const [along, across] = turnsOf(drift.lie);
  return [bx + along * (x + drift.along - ax), by + across * (y + acrossAt(drift, x, y) - ay)];
}

const ringDrift = (rings: RingCourse, depth: number, x: number, y: number): number => {
  const [pith, deep] = pithAt(rings, x);
  return drifted(y - pith, deep, depth);
};

function drifted(across: number, deep: number, depth: number): number {
  const shift = ringShift(across, deep, depth);
  // A ring that does not reach the other face has closed between the two: what stands nearest to it is taken.
  return Number.isNaN(shift) ? -across : Math.max(-FARTHEST, Math.min(FARTHEST, shift));
}

function restAt({ x0, y0, stepX, stepY, columns, rows, across }: Drift['rest'], x: number, y: number): number {
  const u = Math.max(0, Math.min(columns - 1, (x - x0) / stepX));
  const v = Math.max(0, Math.min(rows - 1, (y - y0) / stepY));
  const [c, r] = [Math.min(Math.max(0, columns - 2), Math.floor(u)), Math.min(Math.max(0, rows - 2), Math.floor(v))];
  const at = (i: number, k: number) =>
    across[Math.min(columns - 1, c + i) * rows + Math.min(rows - 1, r + k)] as number;
  const [p, q] = [u - c, v - r];
  return (1 - p) * ((1 - q) * at(0, 0) + q * at(0, 1)) + p * ((1 - q) * at(1, 0) + q * at(1, 1));
}

function courseOf(a: FaceFigure, costs: ShiftCosts, depth: number, course?: RingCourse): RingCourse {
  const fit = fitRings(costs, depth, course && startOf(a, course));
  return {
    from: a.x0,
    to: a.x0 + a.stations * a.station,
    pith: fit.pith.map((row) => a.y0 + 0.5 + row),
    deep: fit.deep,
  };
}

/** The rings' drift at stations and rows of a face's figure: the pith's place is reckoned once for each station. */
function foretold(a: FaceFigure, rings: RingCourse, depth: number): (station: number, row: number) => number {
  let [at, pith, deep] = [-1, 0, 0];
  return (station, row) => {
    if (station !== at) {
      at = station;
      [pith, deep] = pithAt(rings, a.x0 + (station + 0.5) * a.station);
    }
    return drifted(a.y0 + row + 0.5 - pith, deep, depth);
  };
}

const startOf = (a: Figure, course: RingCourse) => ({
  pith: course.pith.map((y) => y - a.y0 - 0.5),
  deep: [...course.deep],
});

/** The second figure on the first one's grid, middle on middle, as it lies. */
export function laidOn(a: FaceFigure, b: FaceFigure, lie: Lie, along = 0): Sheet {
  const { stations, rows } = a;
  const [sx, sy] = turnsOf(lie);
  const lines = new Float32Array(stations * rows);
  for (let j = 0; j < stations; j++) {
    const x = b.middle[0] + sx * (a.x0 + (j + 0.5) * a.station + along - a.middle[0]);
    const at = (x - b.x0) / b.station - 0.5;
    const whole = Math.floor(at + 1e-9);
    const f = at - whole;
    for (let r = 0; r < rows; r++) {
      const row = b.middle[1] + sy * (a.y0 + r + 0.5 - a.middle[1]) - b.y0 - 0.5;
      const p = whole >= 0 && whole < b.stations ? between(b, whole * b.rows, row) : 0;
      const q = whole + 1 >= 0 && whole + 1 < b.stations ? between(b, (whole + 1) * b.rows, row) : 0;
      lines[j * rows + r] = f < 1e-6 ? p : p !== 0 && q !== 0 ? p + f * (q - p) : 0;
    }
  }
  return { stations, rows, lines };
}

/** Correlation of a figure with a sheet whose lines stand `moved` rows off. */
function likeness(a: Sheet, b: Sheet, moved: (station: number, row: number) => number): number {
  let [pq, pp, qq] = [0, 0, 0];
  for (let j = 0; j < a.stations; j++) {
    for (let r = 0; r < a.rows; r++) {
      const p = a.lines[j * a.rows + r] as number;
      if (p === 0) continue;
      const q = between(b, j * a.rows, r + moved(j, r));
      if (q === 0) continue;
      pq += p * q;
      pp += p * p;
      qq += q * q;
    }
  }
  return pp > 0 && qq > 0 ? pq / Math.sqrt(pp * qq) : 0;
}
