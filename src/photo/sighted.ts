import type { Point } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import { type CalibrateOptions, calibrateBy, sight } from './calibrate';
import type { Cv } from './cv';
import { measure } from './measure';
import { type FaceReading, heightsFrom } from './readings';
import { calibrationAt, inPhoto, type Size, scaleOfCopy } from './working-copy';

/** A marker's card or a sheet as it was found. */
export interface Card {
  /** What calibration calls it: 'marker 3', 'sheet'. */
  readonly name: string;
  /** Corners of the marker or sheet, px of the stored photo, clockwise from its own top left. */
  readonly corners: readonly Point<'photo'>[];
}

/** A photo in which the reference was found: that takes long, and all that is made of it goes by the one finding. */
export interface SightedPhoto {
  readonly scale: Scale;
  /** None where the reference is points or rods, whose places are given. */
  readonly cards: readonly Card[];
  /**
   * The calibration, in pixels of the stored photo.
   * @param heights of the face where they are known better than the scale says, at pixels of the stored photo
   * @throws InputProblem as `calibrate`
   */
  calibrated(heights?: Scale['heights']): Calibration;
}

/**
 * Finds the reference in a photo, or in a copy of it.
 * @param scale the reference, in pixels of the stored photo
 * @throws InputProblem as `calibrate`
 */
export function sightedIn(
  cv: Cv,
  photo: Raster,
  scale: Scale,
  options: CalibrateOptions & { readonly full?: Size } = {},
): SightedPhoto {
  const full: Size = options.full ?? photo;
  const ofCopy = (said: Scale) => scaleOfCopy(said, full, photo);
  const sighted = sight(cv, photo, ofCopy(scale), options);
  const found = scale.kind === 'markers' || scale.kind === 'paper' ? (sighted.reference.ways[0]?.rough ?? []) : [];
  const toPhoto = inPhoto(full, photo);
  return {
    scale,
    cards: found.map(({ name, points }) => ({ name, corners: points.map(({ px }) => toPhoto(px)) })),
    calibrated: (heights) =>
      calibrationAt(calibrateBy(sighted, photo, ofCopy(heights ? { ...scale, heights } : scale)), full),
  };
}

/** The calibration of a photo; where the face has been read, once more with the wood's own heights in it. @throws InputProblem as `calibrate` */
export function settled({ scale, calibrated }: SightedPhoto, readings: readonly FaceReading[] = []): Calibration {
  const first = calibrated();
  const heights = scale.heights ? [] : heightsFrom(readings, measure(first));
  return heights.length === 0 ? first : calibrated(heights);
}
