export { type CalibrateOptions, calibrate } from './calibrate';
export { type Cv, scope, toGray, toMat, toRaster } from './cv';
export { findMarkers, type Marker } from './markers';
export { traceOutputSchema, tracePointsSchema } from './io';
export { type Measure, measure, toFace, toPhoto } from './measure';
export { rectify } from './rectify';
export { type Laid, type ProposedDefect, type Side, type Stroke, type Traced, type TraceOptions, trace } from './trace';
export { type TracedPhoto, type TraceOutput, type TracePhotoOptions, tracePhoto } from './trace-photo';
