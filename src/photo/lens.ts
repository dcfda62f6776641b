import type { Scale } from '../job';
import type { LensBelief } from './adjustment';

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
/** A lens learnt from an earlier photo of the same camera changes a little with focus and steadying. */
const LEARNT = { focal: 0.01, k1: 0.005 };
/** A lens is worth handing on when the fit knows it as well as this, one standard deviation (focal as a share). */
export const LEARNT_WELL = { focal: 0.025, k1: 0.02 };

export function lensBelief(
  width: number,
  height: number,
  given: Scale['lens'],
  exifFocal35: number | undefined,
): LensBelief {
  const longer = Math.max(width, height);
  const share = given?.focal ?? (exifFocal35 ? exifFocal35 / FRAME_35 : UNKNOWN.focal);
  const relative = given ? LEARNT.focal : exifFocal35 ? EXIF_SIGMA : UNKNOWN.sigma;
  return {
    focal: { mean: share * longer, sigma: share * longer * relative },
    k1: given ? { mean: given.k1, sigma: LEARNT.k1 } : { mean: 0, sigma: K1_SIGMA },
    k2: { mean: 0, sigma: K2_SIGMA },
    centre: [
      { mean: (width - 1) / 2, sigma: CENTRE_SIGMA * longer },
      { mean: (height - 1) / 2, sigma: CENTRE_SIGMA * longer },
    ],
  };
}
