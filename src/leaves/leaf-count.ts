import { InputProblem } from '../units';
import type { LeafCountInput } from './io';
import { sayMm, um } from './micrometres';
import { refuseTooMany } from './too-many';
import { sawnFrom } from './ways-count';

/** How many leaves a board gives. Lengths in mm. */
export interface LeafCount {
  readonly leaves: number;
  /** What is left behind the last cut; 0 where it became the last leaf. */
  readonly remnant: number;
  /** Where each cut begins, from the outer face as it was. */
  readonly cuts: readonly number[];
}

/**
 * Leaves that a board yields when it is resawn from one face (COMMANDS `leaves`). The face allowance comes off the outer face once; each
 * leaf is sawn at its finished thickness plus sanding; the board is dressed between one cut and the next, not after the last; what is
 * left after the last cut is at least `lastPiece` and is no leaf. With a last piece of 0, a rest that still measures a leaf after
 * dressing is the last leaf.
 * @throws InputProblem when the face allowance is more than the board's thickness, or the board gives more leaves than any does
 */
export function leafCount(input: Omit<LeafCountInput, 'leafPhotos' | 'panels'>): LeafCount {
  const thickness = um(input.board.thickness);
  const face = um(input.faceAllowance);
  const leaf = um(input.leaf.thickness + input.leaf.sanding);
  const [kerf, dressing, lastPiece] = [um(input.kerf), um(input.dressing), um(input.lastPiece)];
  if (face > thickness) {
    throw new InputProblem(
      `The face allowance of ${sayMm(input.faceAllowance)} is more than the board's thickness of ${sayMm(input.board.thickness)}.`,
      '/faceAllowance',
      'Give what planing takes off the outer face, in mm.',
    );
  }
  if (leaf === 0)
    throw new InputProblem(
      'The leaf has no thickness.',
      '/leaf/thickness',
      'Give the finished leaf in mm, at least 0.001.',
    );
  refuseTooMany(thickness, leaf, kerf, '/board/thickness');
  const { cuts, rest, restIsLeaf } = sawnFrom({ thickness, face, leaf, kerf, dressing, lastPiece });
  return {
    leaves: cuts + (restIsLeaf ? 1 : 0),
    remnant: restIsLeaf ? 0 : rest / 1000,
    cuts: Array.from({ length: cuts }, (_, i) => (face + (i + 1) * leaf + i * (kerf + dressing)) / 1000),
  };
}
