export { type GrainOptions, grainField } from './grain-field';
export type { GrainField, JointLine, JointScore, Masked, Stretch, Why, WoodFace } from './joint-types';
export { type SeamWord, seamWord } from './words';
