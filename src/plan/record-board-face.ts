import { emptyFace, type FaceName, type Job, type Photo } from '../job';
import { InputProblem } from '../units';
import type { ReadLeaf } from './record-leaves';
import { recordFace } from './record-trace';

/**
 * Writes what a photo shows of one face of a board that is not sawn yet (of a draft, changed in place). What was known of that face before goes.
 * @throws InputProblem when the job has no such board
 */
export function recordBoardFace(
  draft: Job,
  board: string,
  face: FaceName,
  photo: Omit<Photo, 'calibration'>,
  { read, picture }: ReadLeaf,
): void {
  const own = draft.boards[board];
  if (!own) throw new InputProblem('The job has no such board.', `/boards/${board}`, 'Add the board again.');
  const faces = own.faces ?? { top: emptyFace(), bottom: emptyFace() };
  const fresh = { ...emptyFace(), photos: { [photo.id]: { ...photo, calibration: null } } };
  own.faces = { ...faces, [face]: fresh };
  const kept = own.faces[face];
  recordFace(kept, kept.photos[photo.id] as Photo, read, picture);
}
