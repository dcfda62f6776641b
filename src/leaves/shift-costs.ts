/** How unlike two figures are at every place and every shift across the grain: what following a drift, and fitting rings, choose from. */

/** Figures on one grid: [station][row], 0 where nothing is known. */
export interface Sheet {
  readonly stations: number;
  readonly rows: number;
  readonly lines: Float32Array;
}

/** Costs 0 (alike) to 2 (opposite), 1 where nothing is known: [column][row][shift]. Shift k is (k - (shifts - 1) / 2) step. */
export interface ShiftCosts {
  readonly columns: number;
  readonly rows: number;
  readonly shifts: number;
  readonly step: number;
  readonly costs: Float32Array;
}

/** Every so many stations and rows there is a node; what is compared reaches so far about it, either way. */
export const NODE_STATIONS = 4;
export const NODE_ROWS = 2;
const REACH_STATIONS = 6;
const REACH_ROWS = 6;
/** Shifts are tried this far apart, rows: at whole ones, half of them would be looked at through a blur. */
const STEP = 0.5;

/**
 * One less the normalised correlation about each node, for shifts up to `reach` rows either way of what is expected there.
 * @param expected shift at a station and row (rows); 0 where left out
 */
export function shiftCosts(
  a: Sheet,
  b: Sheet,
  reach: number,
  expected?: (station: number, row: number) => number,
): ShiftCosts {
  const { stations, rows } = a;
  const shifts = 2 * Math.round(reach / STEP) + 1;
  const columns = Math.floor((stations - 1) / NODE_STATIONS) + 1;
  const nodes = Math.floor((rows - 1) / NODE_ROWS) + 1;
  const costs = new Float32Array(columns * nodes * shifts).fill(1);
  const other = new Float32Array(stations * rows);
  const lay = expected ? laidAsExpected(b, stations, rows, expected) : laidBy(b, stations, rows);
  for (let k = 0; k < shifts; k++) {
    lay(k - (shifts - 1) / 2, other);
    likenessAtNodes(a, other, (c, r, like) => {
      costs[(c * nodes + r) * shifts + k] = 1 - like;
    });
  }
  return { columns, rows: nodes, shifts, step: STEP, costs };
}

/** Writes the second figure, so many steps off, onto the grid of the first. */
type Lay = (steps: number, onto: Float32Array) => void;

/** Where nothing is expected all rows move alike: what stands at whole rows, and half way between two, is read once. */
function laidBy(b: Sheet, stations: number, rows: number): Lay {
  const planes = Array.from({ length: 1 / STEP }, (_, part) => {
    const plane = new Float32Array(stations * rows);
    for (let i = 0; i < plane.length; i++) plane[i] = between(b, i - (i % rows), (i % rows) + part * STEP);
    return plane;
  });
  return (steps, onto) => {
    const whole = Math.floor(steps * STEP);
    const plane = planes[steps - whole / STEP] as Float32Array;
    onto.fill(0);
    const [first, end] = [Math.max(0, -whole), Math.min(rows, rows - whole)];
    if (first >= end) return;
    for (let o = 0; o < onto.length; o += rows) onto.set(plane.subarray(o + first + whole, o + end + whole), o + first);
  };
}

function laidAsExpected(
  b: Sheet,
  stations: number,
  rows: number,
  expected: (station: number, row: number) => number,
): Lay {
  const base = new Float32Array(stations * rows);
  for (let j = 0; j < stations; j++) for (let r = 0; r < rows; r++) base[j * rows + r] = r + expected(j, r);
  return (steps, onto) => {
    for (let i = 0; i < base.length; i++) onto[i] = between(b, i - (i % rows), (base[i] as number) + steps * STEP);
  };
}

/** The normalised correlation about each node where anything is known: sums slide along the stations, and along the rows at nodes only. */
function likenessAtNodes(
  { stations, rows, lines }: Sheet,
  other: Float32Array,
  told: (column: number, node: number, like: number) => void,
): void {
  const [both, ofA, ofB] = [new Float64Array(rows), new Float64Array(rows), new Float64Array(rows)];
  const add = (station: number, sign: 1 | -1): void => {
    const o = station * rows;
    for (let r = 0; r < rows; r++) {
      const p = lines[o + r] as number;
      const q = other[o + r] as number;
      if (p === 0 || q === 0) continue;
      both[r] = (both[r] as number) + sign * p * q;
      ofA[r] = (ofA[r] as number) + sign * p * p;
      ofB[r] = (ofB[r] as number) + sign * q * q;
    }
  };
  for (let j = -REACH_STATIONS; j < stations; j++) {
    if (j + REACH_STATIONS < stations) add(j + REACH_STATIONS, 1);
    if (j - REACH_STATIONS > 0) add(j - REACH_STATIONS - 1, -1);
    if (j < 0 || j % NODE_STATIONS !== 0) continue;
    let [pq, pp, qq] = [0, 0, 0];
    for (let r = -REACH_ROWS; r < rows; r++) {
      const enter = r + REACH_ROWS;
      const leave = r - REACH_ROWS - 1;
      if (enter < rows) {
        pq += both[enter] as number;
        pp += ofA[enter] as number;
        qq += ofB[enter] as number;
      }
      if (leave >= 0) {
        pq -= both[leave] as number;
        pp -= ofA[leave] as number;
        qq -= ofB[leave] as number;
      }
      if (r >= 0 && r % NODE_ROWS === 0 && pp * qq > 1e-6)
        told(j / NODE_STATIONS, r / NODE_ROWS, pq / Math.sqrt(pp * qq));
    }
  }
}

/** A figure at a row between rows, of the station whose rows begin at `first`; 0 where it is not known. */
export function between({ lines, rows }: Sheet, first: number, row: number): number {
  const whole = Math.floor(row);
  if (!(whole >= 0 && whole + 1 < rows)) return 0;
  const [p, q] = [lines[first + whole] as number, lines[first + whole + 1] as number];
  return p !== 0 && q !== 0 ? p + (row - whole) * (q - p) : 0;
}
