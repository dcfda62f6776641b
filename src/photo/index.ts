export { type CalibrateOptions, calibrate } from './calibrate';
export { type Cv, scope, toGray, toMat, toRaster } from './cv';
export { findMarkers, type Marker } from './markers';
export { type Measure, measure, toFace, toPhoto } from './measure';
export { rectify } from './rectify';
