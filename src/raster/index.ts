export { blur } from './blur';
export { composeTop, type TopPiece } from './compose-top';
export { evenOut, type LitFace } from './even-out';
export { labPlanes, lightness, linearLight, srgbByte } from './lab';
export { type Grid, maskOf, nearMask } from './mask';
export { type FacePicture, type Plane, type Raster, rasterOf } from './raster';
export { resample } from './resample';
export { sample } from './sample';
export { warp } from './warp';
