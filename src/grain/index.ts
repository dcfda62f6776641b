export { broadDistance, compareEdges, jointCost, unlikeness } from './compare';
export { type Edge, readBroad, readEdge } from './edge';
export { type FaceFeatures, faceFeatures } from './face-features';
export { grainField } from './grain-field';
export { withGrainLines } from './grain-lines';
export type { GrainField, JointLine, WoodFace } from './joint-types';
export { type LineGrid, lineGrid, matchGrids, type Rows } from './line-scan';
export { scoreJoint } from './score';
export { seamWord } from './words';
