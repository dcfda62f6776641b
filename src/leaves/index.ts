export {
  type LeafPhoto,
  type LeavesInput,
  type LeavesOutput,
  leavesInput,
  leavesOutput,
  type Panel,
  type PanelOutput,
  type UsedLeaf,
} from './io';
export { leafCount } from './leaf-count';
export { matchPanels } from './match-panels';
export { frontsOf } from './set-fronts';
export type { BenchLeaf, BenchRules, Front, LeafFace, SetRequest } from './set-types';
export type { Leaf } from './usable';
export {
  leavesBy,
  type ResawCut,
  type Resawn,
  resawn,
  type Saw,
  type Slice,
  STARTS,
  USUAL_WAY,
  WAYS,
  type Way,
} from './ways';
export { leastThickness, type NextLeaf, nextLeaf } from './yield-next';
