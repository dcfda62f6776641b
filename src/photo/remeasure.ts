import { type Bounds, bounds } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { FacePicture, Raster } from '../raster';
import type { CalibrateOptions } from './calibrate';
import type { Cv } from './cv';
import { laidOf } from './laid';
import { measure } from './measure';
import { paperLight, relit } from './paper-light';
import type { FaceReading } from './readings';
import { rectify } from './rectify';
import { settled, sightedIn } from './sighted';
import type { Size } from './working-copy';

export interface RemeasureOptions extends CalibrateOptions {
  /** Size of the photo where what is given is a smaller copy of it. */
  readonly full?: Size;
  readonly readings?: readonly FaceReading[];
  /** What the face was measured by so far. */
  readonly before: Calibration;
  /** The part of the face that its picture shows so far, mm, and the picture's detail. */
  readonly part: Bounds;
  readonly mmPerPx: number;
}

/** Detail at which the light is read from the paper in the photo, mm per pixel. */
const LIGHT = 3;

/**
 * A photo measured anew by the same reference with more said about it (tape checks, how low it lies, readings of the face), and the same
 * part of the face seen from above by that. Nothing is traced: what was traced or drawn keeps to the spots of the photo that it was on.
 * @throws InputProblem when what is said contradicts the photo
 */
export function remeasure(
  cv: Cv,
  photo: Raster,
  scale: Scale,
  { before, part, mmPerPx, ...options }: RemeasureOptions,
): { readonly calibration: Calibration; readonly picture: FacePicture } {
  const sighted = sightedIn(cv, photo, scale, options);
  const calibration = settled(sighted, options.readings);
  const [from, to] = [measure(before), measure(calibration)];
  const { minX, minY, maxX, maxY } = part;
  const corners = [
    [minX, minY],
    [maxX, minY],
    [maxX, maxY],
    [minX, maxY],
  ] as const;
  const places = corners.map((corner) => to.place(from.toPhoto(corner)) ?? corner);
  const shot = rectify(cv, photo, calibration, { mmPerPx, bounds: bounds(places) });
  const white = scale.kind === 'markers' || scale.kind === 'paper' ? laidOf(sighted, calibration) : [];
  const light =
    white.length > 0
      ? paperLight(
          rectify(cv, photo, calibration, { mmPerPx: LIGHT }),
          white.map(({ polygon }) => polygon),
        )
      : null;
  return { calibration, picture: light ? relit(shot, light) : shot };
}
