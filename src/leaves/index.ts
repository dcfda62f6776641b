export { readLooks } from './bench-looks';
export { type BudgetLine, type RestUse, resawBudget, restUse } from './budget';
export { type BoardToBuy, boardsToBuy } from './buy';
export { checkSet } from './check-set';
export { alike, type Exchanged, exchangeBacks, exchangeFronts, exchangeLeaf, sameSize } from './exchange';
export type { CellName } from './exchange-moves';
export { type FrameMember, frameMembers } from './frame-panel';
export { type GradeAsked, type GradeLine, gradeReport } from './grade';
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
export { type Look, leafLook } from './look';
export { type LookAhead, lookAhead } from './look-ahead';
export { matchPanels } from './match-panels';
export { leafSequence, type PhotographedLeaf } from './sequence';
export type { SequenceFinding } from './sequence-words';
export { type Bench, prepareBench } from './set-bench';
export { frontsOf } from './set-fronts';
export { type LayOutOptions, layOutSet } from './set-layout';
export type { BenchLeaf, BenchRules, Front, LeafFace, SetRequest } from './set-types';
export { setWarnings } from './set-warnings';
export { type LeafStack, type WantedFace, wantedFaces } from './spare';
export type { Leaf } from './usable';
export {
  leavesBy,
  type ResawCut,
  type Resawn,
  resawn,
  type Saw,
  type Slice,
  USUAL_WAY,
  WAYS,
  type Way,
} from './ways';
export { canBePlaned, compareWays, flatThickness, type ReadyBoard, type ResawBoard, readyBoard } from './yield';
export { type ClearFace, clearFaces, longestClear, piecesAlong } from './yield-clear';
export { doorsLost, type HandedOut, handOut } from './yield-given';
export { type NextLeaf, nextLeaf } from './yield-next';
