import type { Board, Job } from '../job';
import { leafCount } from '../leaves';
import type { BoardReport } from './report';

/** Leaves that the doors want: one front each, and one back where the panel is backed. */
function leafPieces(job: Job): { readonly pieces: number; readonly height: number; readonly width: number } {
  const doors = Object.values(job.doors);
  return {
    pieces: doors.reduce((sum, door) => sum + door.count * (door.backed ? 2 : 1), 0),
    height: Math.max(0, ...doors.map(({ height, trim }) => height + 2 * trim)),
    width: Math.max(0, ...doors.map(({ width, trim }) => width + 2 * trim)),
  };
}

/** How many door-high pieces of full panel width a leaf of the board gives, counting as many leaves side by side as the width takes. */
function piecesOf(board: Board, leaves: number, height: number, width: number): number {
  if (height === 0 || width === 0) return 0;
  const lengths = Math.floor(board.length / height);
  const abreast = Math.ceil(width / board.width);
  return Math.floor((leaves * lengths) / abreast);
}

/** Every board resawn by the shop's settings, and whether its leaves suffice for the doors. */
export function boardReports(job: Job): BoardReport[] {
  const { leaf, kerf, dressing, faceAllowance, lastPiece } = job.shop.resaw;
  const want = leafPieces(job);
  let left = want.pieces;
  return Object.values(job.boards).map((board) => {
    const { length, width, thickness } = board;
    const { leaves, remnant, cuts } = leafCount({
      board: { length, width, thickness },
      leaf,
      kerf,
      dressing,
      faceAllowance,
      lastPiece,
    });
    const given = piecesOf(board, leaves, want.height, want.width);
    const missing = left - given;
    const warning =
      want.pieces === 0
        ? null
        : missing > 0
          ? `It gives ${given} of the ${left} panel faces still wanted: ${missing} short. A thicker board, a thinner leaf or a thinner blade would bring more.`
          : missing === 0
            ? 'No leaf to spare: one spoilt leaf is one panel that will not match.'
            : null;
    const report: BoardReport = { id: board.id, name: board.name, leaves, remnant, cuts, wanted: left, given, warning };
    left = Math.max(0, missing);
    return report;
  });
}
