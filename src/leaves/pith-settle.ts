import { type Control, pause } from '../search';
import type { BoardSheets, PithCourse } from './pith-course';
import { labelRings } from './ring-labels';

/** A course moved as a whole, its rings made flatter or lopsided, so that all of both faces shows one run of rings. */
export interface Settled {
  readonly course: PithCourse;
  /** Likeness of both faces to the run of rings they share. */
  readonly likeness: number;
}

/** Moves tried: mm across, mm in depth, shares of the radius for flat and for lopsided; all of them by these sizes in turn. */
const MOVES = [
  [2, 0, 0, 0],
  [0, 4, 0, 0],
  [0, 0, 0.015, 0],
  [0, 0, 0, 0.015],
] as const;
const SIZES = [4, 2, 1, 0.5];
const ROUNDS = 2;

/**
 * Settles a tracked course. How the pith runs along the board is known; where it runs on the whole is known only as well as the end grain was read, and a
 * ring taken for its neighbour looks well in one place. It does not all over the board: no two rings are of one width.
 * @throws Cancelled
 */
export async function settlePith(board: BoardSheets, course: PithCourse, control: Control): Promise<Settled> {
  let best: Settled = { course, likeness: labelRings(board, course).likeness };
  for (const [i, size] of SIZES.entries()) {
    for (let round = 0, better = true; better && round < ROUNDS; round++) {
      better = false;
      for (const sign of [size, -size]) {
        for (const move of MOVES) {
          await pause(control, (i + round / ROUNDS) / SIZES.length);
          const next = moved(best.course, move, sign);
          const { likeness } = labelRings(board, next);
          if (likeness <= best.likeness) continue;
          best = { course: next, likeness };
          better = true;
        }
      }
    }
  }
  return best;
}

function moved({ across, deep, shape }: PithCourse, [by, down, flat, lopsided]: (typeof MOVES)[number], size: number) {
  const oval = [shape.oval[0] + size * flat, shape.oval[1] + size * lopsided] as const;
  return {
    across: across.map((p) => p + size * by),
    deep: deep.map((d) => d + size * down),
    shape: { ...shape, oval },
  };
}
