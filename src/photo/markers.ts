import type { Point } from '../geometry';
import type { Raster } from '../raster';
import type { Cv } from './cv';

/** A square fiducial marker as found in a photo. */
export interface Marker {
  readonly id: number;
  /** Its outer corners, clockwise from its own top left. */
  readonly corners: readonly [Point<'photo'>, Point<'photo'>, Point<'photo'>, Point<'photo'>];
}

/** All markers of dictionary 4x4_50 in a photo. */
export declare function findMarkers(cv: Cv, photo: Raster): Marker[];
