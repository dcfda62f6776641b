import type { Point } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { FacePicture, Raster } from '../raster';
import type { CalibrateOptions } from './calibrate';
import type { FaceReading } from './readings';
import type { SightedPhoto } from './sighted';
import type { TieShot } from './stitch-tie';
import type { Traced, TraceOptions } from './trace-types';
import type { Size } from './working-copy';

/** One of the photos of a face, with the reference in it. */
export interface Shot extends CalibrateOptions {
  /** What the user calls it. */
  readonly name: string;
  readonly photo: Raster;
  readonly scale: Scale;
  /** Size of the photo where what is given is a smaller copy of it: pixels that go in and out are the photo's. */
  readonly full?: Size;
  /** How the face was measured by this photo before: its frame stays. */
  readonly before?: Calibration | null;
  /** Lines drawn by hand on the photo, px. */
  readonly strokes?: readonly { readonly line: readonly Point<'photo'>[]; readonly kind: 'wood' | 'not wood' }[];
}

export interface ReadFaceOfShotsOptions extends Pick<TraceOptions, 'control'> {
  /** Heights of this face as they were read, in its frame. */
  readonly readings?: readonly FaceReading[];
}

/** How well two photos that follow each other lie on each other. */
export interface Join {
  readonly between: readonly [string, string];
  /** What shared marks miss each other by, mm (root of the mean of squares). */
  readonly marks: number;
  /** What the wood missed by before it was brought together, mm (root of the mean of squares); null where it showed too little figure. */
  readonly wood: number | null;
  /** How alike the wood is in both, 1 at best. */
  readonly likeness: number;
  /** Marks that were moved between the shots. */
  readonly moved: readonly string[];
}

/** What several photos tell about a slab's face. */
export interface FaceOfShots {
  /** In the order of the shots, all over the one frame of the face. */
  readonly calibrations: readonly Calibration[];
  readonly joins: readonly Join[];
  readonly traced: Traced;
  /** The rectified face, cut to the slab with a margin around it. */
  readonly picture: FacePicture;
}

/** A shot measured by itself, in a frame of its own. */
export interface MeasuredShot extends TieShot {
  readonly shot: Shot;
  readonly sighted: SightedPhoto;
}
