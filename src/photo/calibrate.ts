import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import type { Cv } from './cv';

export interface CalibrateOptions {
  /** Focal length in 35 mm terms, as the photo's EXIF gives it. */
  readonly exifFocal35?: number;
}

/** Calibrates a photo by the reference in it. */
export declare function calibrate(cv: Cv, photo: Raster, scale: Scale, options?: CalibrateOptions): Calibration;
