import { type BoardSheets, type PithCourse, ringsAt } from './pith-course';
import { FARTHEST_RING } from './ring-strips';
import { between, NODE_ROWS, NODE_STATIONS, shiftCosts } from './shift-costs';
import { smoothShifts } from './smooth-shifts';

/** Which ring runs through every place of both faces, `[station][row]`: its radius in the one run of rings that all of the board shows, mm. */
export interface RingLabels {
  readonly upper: Float32Array;
  readonly lower: Float32Array;
  /** Likeness of both faces to that run of rings: how well the rings were followed. */
  readonly likeness: number;
}

/** What rings may stand off the course's own, mm along a face. */
const REST = 6;
/** The run of rings is read again from what was labelled by it. */
const ROUNDS = 2;
/** A ring is known where so many places show it. */
const LEAST = 5;

/** Finds where each face's rings really stand about a course: rings are not round, and of no shape that a few figures would tell. */
export function labelRings(board: BoardSheets, course: PithCourse, rounds = ROUNDS): RingLabels {
  const round = [ringsAt(board, course, 0), ringsAt(board, course, board.thickness)] as const;
  let labels: readonly [Float32Array, Float32Array] = round;
  let likeness = 0;
  for (let i = 0; i < rounds; i++) {
    const run = ringRun(board, labels);
    const found = ([0, 1] as const).map((f) => labelled(board, board.faces[f], round[f], run));
    labels = [found[0]?.rings ?? labels[0], found[1]?.rings ?? labels[1]];
    likeness = found.reduce((sum, one) => sum + one.likeness / 2, 0);
  }
  return { upper: labels[0], lower: labels[1], likeness };
}

/** The run of rings from the pith outward: the mean tone of each mm of radius; 0 where too little shows it. */
function ringRun({ faces }: BoardSheets, labels: readonly [Float32Array, Float32Array]): Float32Array {
  const [sums, counts] = [new Float64Array(FARTHEST_RING), new Float64Array(FARTHEST_RING)];
  for (const f of [0, 1] as const) {
    for (const [i, tone] of faces[f].entries()) {
      const ring = labels[f][i] as number;
      const whole = Math.floor(ring);
      if (tone === 0 || whole + 1 >= FARTHEST_RING) continue;
      for (const [at, share] of [
        [whole, whole + 1 - ring],
        [whole + 1, ring - whole],
      ] as const) {
        sums[at] = (sums[at] as number) + share * tone;
        counts[at] = (counts[at] as number) + share;
      }
    }
  }
  return Float32Array.from(sums, (sum, r) => ((counts[r] as number) > LEAST ? sum / (counts[r] as number) : 0));
}

function labelled({ stations, rows }: BoardSheets, lines: Float32Array, round: Float32Array, run: Float32Array) {
  const drawn = round.map((ring) => {
    const whole = Math.floor(ring);
    const [p, q] = [run[whole] ?? 0, run[whole + 1] ?? 0];
    return p !== 0 && q !== 0 ? p + (ring - whole) * (q - p) : 0;
  });
  const costs = shiftCosts({ stations, rows, lines }, { stations, rows, lines: drawn }, REST);
  const field = smoothShifts(costs);
  const rings = new Float32Array(stations * rows);
  let [pq, pp, qq] = [0, 1e-9, 1e-9];
  for (let j = 0; j < stations; j++) {
    for (let r = 0; r < rows; r++) {
      const row = Math.max(0, Math.min(rows - 1, r + shiftAt(field, costs, j, r)));
      const whole = Math.min(rows - 2, Math.floor(row));
      const [p, q] = [round[j * rows + whole] as number, round[j * rows + whole + 1] as number];
      rings[j * rows + r] = p + (row - whole) * (q - p);
      const [own, other] = [lines[j * rows + r] as number, between({ stations, rows, lines: drawn }, j * rows, row)];
      if (own === 0 || other === 0) continue;
      pq += own * other;
      pp += own * own;
      qq += other * other;
    }
  }
  return { rings, likeness: pq / Math.sqrt(pp * qq) };
}

function shiftAt(
  field: Float32Array,
  { columns, rows }: { columns: number; rows: number },
  j: number,
  r: number,
): number {
  const [u, v] = [Math.min(columns - 1, j / NODE_STATIONS), Math.min(rows - 1, r / NODE_ROWS)];
  const [c, k] = [Math.min(Math.max(0, columns - 2), Math.floor(u)), Math.min(Math.max(0, rows - 2), Math.floor(v))];
  const at = (a: number, b: number) => field[Math.min(columns - 1, c + a) * rows + Math.min(rows - 1, k + b)] as number;
  const [p, q] = [u - c, v - k];
  return (1 - p) * ((1 - q) * at(0, 0) + q * at(0, 1)) + p * ((1 - q) * at(1, 0) + q * at(1, 1));
}
