export { cutsOf, type SawCut } from './cuts';
export { withPlacement } from './figures';
export { type JointBench, type JointMove, jointBench } from './move';
export { leftOver, type Offcut, type SlabAreas } from './offcuts';
export { flatteningShop, topOutline } from './placement';
export { proposePlans } from './propose';
export type { Refusal } from './sound';
export { defectArea, fromFarFace, type Pictures, surfacesOf } from './stock';
export { sizeAlong, stripInTop, stripMap } from './strips';
