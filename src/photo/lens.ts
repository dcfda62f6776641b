import type { Calibration, Scale } from '../job';
import type { LensBelief } from './adjustment';
import { Camera } from './camera';

/**
 * What is believed of a camera before its photo is looked at. Common practice, no source, where none is named.
 */

/** Width of a 35 mm frame, mm, that EXIF's "focal length in 35 mm film" is a share of. */
const FRAME_35 = 35.3;
/** EXIF rounds to whole mm, and makers round again; 1.5 % held in our own trials. */
const EXIF_SIGMA = 0.025;
/** Focal length over the photo's longer side where nothing is known: telephones' main cameras and short zooms. */
const UNKNOWN = { focal: 0.78, sigma: 0.2 };
/** Most photos show |k1| below 0.1. */
const K1_SIGMA = 0.1;
/** The next term, |k2|; left out, it is taken for k1, which on our trial photos moved lengths by up to 0.2 %. */
const K2_SIGMA = 0.02;
/** The optical axis misses the photo's middle by this share of its longer side. */
const CENTRE_SIGMA = 0.0075;
/** A lens changes by this with focus and steadying from photo to photo, one standard deviation (focal as a share). */
const CHANGES = { focal: 0.004, k1: 0.003 };
/** One standard deviation of a lens that was given without any: a good photo of markers teaches it about so. */
const GIVEN = { focal: 0.005, k1: 0.004 };
/** A lens is worth keeping when one photo tells it as well as this, one standard deviation (focal as a share). */
const WORTH_KEEPING = { focal: 0.02, k1: 0.015 };

/** A camera's lens as one photo told it: focal in units of the photo's longer side, and one standard deviation of each. */
export interface LearntLens {
  readonly focal: number;
  readonly k1: number;
  readonly focalSigma: number;
  readonly k1Sigma: number;
}

/**
 * The lens that a calibration taught, to be given as `scale.lens` with later photos that the same camera took at the same zoom; null
 * where it did not teach one well enough to help them.
 */
export function lensLearnt({
  width,
  height,
  parameters,
  covariance,
}: Pick<Calibration, 'width' | 'height' | 'parameters' | 'covariance'>): LearntLens | null {
  const longer = Math.max(width, height);
  const sd = (k: number) => Math.sqrt(covariance[k * Camera.SIZE + k] as number);
  const [focal, focalSigma] = [(parameters[6] as number) / longer, sd(6) / longer];
  const [k1, k1Sigma] = [parameters[7] as number, sd(7)];
  const worth = focalSigma < WORTH_KEEPING.focal * focal && k1Sigma < WORTH_KEEPING.k1;
  return worth ? { focal, k1, focalSigma, k1Sigma } : null;
}

/** What is believed of a photo's lens: by a lens that is given, else by EXIF, else by what cameras usually are. */
export function lensBelief(
  width: number,
  height: number,
  given: Scale['lens'],
  exifFocal35: number | undefined,
): LensBelief {
  const longer = Math.max(width, height);
  const share = given?.focal ?? (exifFocal35 ? exifFocal35 / FRAME_35 : UNKNOWN.focal);
  const told = given && {
    focal: given.focalSigma ? Math.hypot(CHANGES.focal, given.focalSigma / given.focal) : GIVEN.focal,
    k1: given.k1Sigma ? Math.hypot(CHANGES.k1, given.k1Sigma) : GIVEN.k1,
  };
  const relative = told?.focal ?? (exifFocal35 ? EXIF_SIGMA : UNKNOWN.sigma);
  return {
    focal: { mean: share * longer, sigma: share * longer * relative },
    k1: given && told ? { mean: given.k1, sigma: told.k1 } : { mean: 0, sigma: K1_SIGMA },
    k2: { mean: 0, sigma: K2_SIGMA },
    centre: [
      { mean: (width - 1) / 2, sigma: CENTRE_SIGMA * longer },
      { mean: (height - 1) / 2, sigma: CENTRE_SIGMA * longer },
    ],
  };
}
