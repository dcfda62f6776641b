import type { Board, Job } from '../job';
import {
  canBePlaned,
  clearFaces,
  type LeafStack,
  type ReadyBoard,
  type Resawn,
  readyBoard,
  resawn,
  USUAL_WAY,
  type Way,
} from '../leaves';

/** A board sawn, before anybody asks for its leaves. */
export interface SawnBoard {
  readonly board: Board;
  readonly way: Way;
  readonly ready: ReadyBoard;
  readonly sawn: Resawn;
  /** One a strip. */
  readonly stacks: readonly LeafStack[];
}

/** A board by its own way of working, by the shop's settings. */
export function sawBoard(job: Job, board: Board): SawnBoard {
  const ready = readyBoard(board, job.shop);
  const way = board.way ?? USUAL_WAY;
  const sawn = canBePlaned(ready.saw, way) ? resawn(ready.saw, way) : unsawn(ready, way);
  return { board, way, ready, sawn, stacks: stacksOf(job, board, ready, sawn.leaves) };
}

/** All of it is left where there is not enough wood for the planing. */
const unsawn = ({ flat }: ReadyBoard, way: Way): Resawn => ({
  way,
  leaves: 0,
  rests: [flat],
  slices: flat > 0 ? [{ what: 'rest', from: 0, to: flat }] : [],
  cuts: [],
});

/** So many leaves of each of its strips. */
export const stacksOf = (job: Job, board: Board, { strips }: ReadyBoard, leaves: number): LeafStack[] =>
  clearFaces(board, strips, job.shop.kerf.fine).map((face) => ({ face, leaves }));
