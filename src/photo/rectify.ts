import type { Bounds } from '../geometry';
import type { Calibration } from '../job';
import type { FacePicture, Raster } from '../raster';
import type { Cv } from './cv';

export interface RectifyOptions {
  readonly mmPerPx: number;
  /** Part of the face to show, mm; the whole photo where left out. */
  readonly bounds?: Bounds;
}

/** The face as seen square from above. */
export declare function rectify(cv: Cv, photo: Raster, calibration: Calibration, options: RectifyOptions): FacePicture;
