export { calibrate } from './calibrate';
export type { Cv } from './cv';
export { traceOutputSchema, tracePointsSchema } from './io';
export { findMarkers } from './markers';
export { measure, toFace, toPhoto } from './measure';
export type { FaceReading } from './readings';
export { rectify } from './rectify';
export { type TracedPhoto, type TraceOutput, type TracePhotoOptions, tracePhoto } from './trace-photo';
