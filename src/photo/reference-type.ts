import type { Belief } from './adjustment';
import type { Between } from './between';
import type { Camera } from './camera';
import type { Mark, Pose } from './marks';

/** Marks, and the same marks with points only, which the first guess goes by. */
interface Way {
  readonly marks: readonly Mark[];
  readonly rough: readonly Mark[];
}

/** A photo's reference. */
export interface Reference {
  /** Each way that it may lie; the one that fits best is kept. */
  readonly ways: readonly Way[];
  /** The first guess itself, where the reference gives it. */
  readonly start: { readonly camera: Camera; readonly poses: readonly Pose[] } | null;
  /** What is known of how the marks lie to each other, where something is. */
  readonly between?: readonly Between[];
  /** Covariance of the camera (row by row) that the adjustment does not see, where the reference leaves two ways open. */
  readonly doubt?: readonly number[];
  /** Names of what was found but cannot be measured by. */
  readonly leftOut: readonly string[];
  /** Edges are not believed to better than this, px: what the residuals do not show, since neighbours err alike. */
  readonly leastEdgeSigma: number;
  /** How far white seems to grow over dark at edges, px. */
  readonly bias: Belief;
  /** So many marks must remain when others are left out. */
  readonly least: number;
}
