import { emptyFace, type FaceName, type Job, type Photo, type Picture } from '../job';
import type { LeafRead } from '../photo';
import { InputProblem } from '../units';
import { recordFace } from './record-trace';

/** One leaf of a picture of several. */
export interface ReadLeaf {
  readonly read: Pick<LeafRead, 'calibration' | 'traced'>;
  /** Where its rectified picture was stored. */
  readonly picture: Picture;
}

/**
 * Writes the leaves that one photo shows into a board (of a draft, changed in place), in their order: each to the next leaf whose face was not
 * read yet, else to a new one behind the last. The photo stands with each of them.
 * @param face the face that was up: `top` is the one towards the board's outer face
 * @param newId gives an id for a leaf that is new
 * @returns ids of the leaves, in order
 * @throws InputProblem when the job has no such board
 */
export function recordLeaves(
  draft: Job,
  board: string,
  face: FaceName,
  photo: Omit<Photo, 'calibration'>,
  leaves: readonly ReadLeaf[],
  newId: () => string,
): string[] {
  const own = draft.boards[board];
  if (!own) throw new InputProblem('The job has no such board.', `/boards/${board}`, 'Add the board again.');
  const inOrder = Object.values(own.leaves).sort((a, b) => a.place - b.place);
  const open = inOrder.filter(({ faces }) => faces[face].outline === null).map(({ id }) => id);
  let last = inOrder.at(-1)?.place ?? 0;
  return leaves.map(({ read, picture }) => {
    let id = open.shift();
    if (id === undefined) {
      id = newId();
      last++;
      own.leaves[id] = { id, place: last, faces: { top: emptyFace(), bottom: emptyFace() } };
    }
    const leafFace = own.leaves[id]?.faces[face];
    if (!leafFace) throw new Error('a leaf that was just added is not there');
    const kept: Photo = { ...photo, calibration: null };
    leafFace.photos[photo.id] = kept;
    const fresh = Object.keys(leafFace.defects).length === 0;
    recordFace(leafFace, leafFace.photos[photo.id] as Photo, read, picture);
    // Both sides of a leaf are sawn: a step of colour along one of them is seldom sapwood.
    if (!leafFace.sapwoodTold) leafFace.sapwood = [];
    // On a panel no defect shows unless one wants it (practice); a stain may not even be one.
    if (fresh)
      for (const defect of Object.values(leafFace.defects)) if (defect.kind !== 'stain') defect.permit = 'avoid';
    return id;
  });
}
