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
  const base = new Float32Array(stations * rows);
  for (let j = 0; expected && j < stations; j++) for (let r = 0; r < rows; r++) base[j * rows + r] = r + expected(j, r);
  if (!expected) for (let i = 0; i < base.length; i++) base[i] = i % rows;
  const [both, ofA, ofB] = [base.slice(), base.slice(), base.slice()];
  for (let k = 0; k < shifts; k++) {
    const by = (k - (shifts - 1) / 2) * STEP;
    for (let i = 0; i < base.length; i++) {
      const one = a.lines[i] as number;
      const other = between(b, i - (i % rows), (base[i] as number) + by);
      const known = one !== 0 && other !== 0;
      both[i] = known ? one * other : 0;
      ofA[i] = known ? one * one : 0;
      ofB[i] = known ? other * other : 0;
    }
    const [p, q, s] = [both, ofA, ofB].map((plane) => boxSums(plane, stations, rows)) as [
      Float32Array,
      Float32Array,
      Float32Array,
    ];
    for (let c = 0; c < columns; c++) {
      for (let r = 0; r < nodes; r++) {
        const i = c * NODE_STATIONS * rows + r * NODE_ROWS;
        const square = (q[i] as number) * (s[i] as number);
        if (square > 1e-6) costs[(c * nodes + r) * shifts + k] = 1 - (p[i] as number) / Math.sqrt(square);
      }
    }
  }
  return { columns, rows: nodes, shifts, step: STEP, costs };
}

/** A figure at a row between rows, of the station whose rows begin at `first`; 0 where it is not known. */
export function between({ lines, rows }: Sheet, first: number, row: number): number {
  const whole = Math.floor(row);
  if (!(whole >= 0 && whole + 1 < rows)) return 0;
  const [p, q] = [lines[first + whole] as number, lines[first + whole + 1] as number];
  return p !== 0 && q !== 0 ? p + (row - whole) * (q - p) : 0;
}

/** Sums over the reach about each place, along rows and then along stations. */
function boxSums(plane: Float32Array, stations: number, rows: number): Float32Array {
  const down = new Float32Array(plane.length);
  for (let j = 0; j < stations; j++) {
    const o = j * rows;
    let sum = 0;
    for (let r = -REACH_ROWS; r < rows; r++) {
      if (r + REACH_ROWS < rows) sum += plane[o + r + REACH_ROWS] as number;
      if (r - REACH_ROWS > 0) sum -= plane[o + r - REACH_ROWS - 1] as number;
      if (r >= 0) down[o + r] = sum;
    }
  }
  const out = new Float32Array(plane.length);
  const sums = new Float64Array(rows);
  for (let j = -REACH_STATIONS; j < stations; j++) {
    const [enter, leave] = [j + REACH_STATIONS, j - REACH_STATIONS - 1];
    for (let r = 0; r < rows; r++) {
      let s = sums[r] as number;
      if (enter < stations) s += down[enter * rows + r] as number;
      if (leave >= 0) s -= down[leave * rows + r] as number;
      sums[r] = s;
      if (j >= 0) out[j * rows + r] = s;
    }
  }
  return out;
}
