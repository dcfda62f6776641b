export { linearSurface } from './linear';
export { backward, cholesky, forward } from './matrix';
export { type Question, questions } from './questions';
export type { Faces, Reading, Spot3, Surface } from './reading';
export { slabReadings, slabSurfaces } from './slab';
export { type SmoothFaces, smoothFaces } from './smooth';
export { bowOfString, type StringPhoto, stringGaps } from './string-gaps';
export { type Tie, tieFaces } from './tie';
export { type Warp, warpFaces } from './warp';
