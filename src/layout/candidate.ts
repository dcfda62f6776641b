import type { Placement, Top } from '../job';
import type { FaceStock } from './stock';

/** A place for a top on the stock: what the solver chooses among. Its thickness is a first sieve's until `measured`. */
export interface Candidate {
  readonly top: Top;
  readonly placement: Placement;
  /** The faces that its strips are cut from, in the order of the strips. */
  readonly stock: readonly FaceStock[];
  /** The places of the tops that it is cut into, where it is that of a line of tops through which the grain goes on. */
  readonly pieces?: readonly Candidate[];
}
