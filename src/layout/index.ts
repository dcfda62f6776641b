export { type Carries, type CarriesMemo, carriesOf, type Limit, type Room } from './carries';
export { cutsOf, type SawCut, sawOf } from './cuts';
export { defectArea } from './defect-area';
export {
  farDefects,
  farLetters,
  farPith,
  fromFarFace,
  ontoFace,
  reaches,
  reachingDefects,
  reachingName,
} from './far-face';
export { depthFinished, wasteNow, withPlacements } from './figures';
export { type CheckerOf, firstTop, type TopSize } from './first-top';
export { type Ground, groundOf } from './ground';
export { type JointBench, jointBench, type MovedJoint } from './move';
export type { JointMove } from './moved-lines';
export type { ClearPiece } from './offcut-rectangles';
export { type LeftOver, leftOver, offcutsOf } from './offcuts';
export { topOutline } from './placement';
export { type ProposeOptions, proposePlans } from './propose';
export { sameCrack } from './same-crack';
export { sapwoodAlong } from './sapwood';
export { limitsOf } from './sawn';
export { type SeamSlab, seamInput, seamOutput } from './seam-io';
export { searchSeams } from './seam-search';
export { type FoundPlaces, pairOf, type SeamSearch, type SeamTask, seamTask } from './seam-task';
export type { Refusal } from './sound';
export { type Pictures, surfacesOf } from './stock';
export { sizeAlong, stripInTop, stripMap } from './strips';
export { flatteningShop } from './thinnest';
export { type WouldDo, wouldDo } from './would-do';
export { bestWithout, boundRack, type Looked, rankYard, type YardEntry, type YardRanking } from './yard';
export { ASSUMED_SIGMA, assumedSlab, jobWith, rackOf } from './yard-assumed';
export type { YardBound } from './yard-bound';
export { inMoney, isUnseen, planValue, sharesOf, topsHad, type YardAim } from './yard-value';
