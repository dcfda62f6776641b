import type { Point, Polygon } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { FacePicture, Raster } from '../raster';
import type { CalibrateOptions } from './calibrate';
import type { Cv } from './cv';
import type { ProposedDefect, TraceOptions, Traced } from './trace';

export interface TracePhotoOptions extends CalibrateOptions, Pick<TraceOptions, 'control'> {
  /** Pixels to measure, and pairs of their indices whose distance is wanted. */
  readonly points?: { readonly px: readonly Point<'photo'>[]; readonly distances?: readonly (readonly [number, number])[] };
  /** mm per pixel of the rectified picture; the photo's own detail where left out. */
  readonly resolution?: number;
  /** Lines drawn by hand on the photo, px. */
  readonly strokes?: readonly { readonly line: readonly Point<'photo'>[]; readonly kind: 'wood' | 'not wood' }[];
  /** Distance between nodes of the grain field, mm. */
  readonly grainStep?: number;
}

/** What the `trace` command prints (COMMANDS, trace). mm on the face, degrees, px of the photo. */
export interface TraceOutput {
  readonly photo: { readonly width: number; readonly height: number };
  readonly calibration: Pick<Calibration, 'residualPx' | 'sigma' | 'lens' | 'outliers'>;
  readonly outline: Polygon<'face'>;
  readonly bark: Polygon<'face'> | null;
  readonly outlineSigma: number;
  readonly sapwood: readonly Polygon<'face'>[];
  readonly defects: readonly ProposedDefect[];
  readonly points: readonly { readonly px: Point<'photo'>; readonly mm: Point<'face'>; readonly sigma: number }[];
  readonly distances: readonly { readonly mm: number; readonly sigma: number }[];
  readonly rectified: { readonly mmPerPx: number; readonly x0: number; readonly y0: number } | null;
  readonly grain: {
    readonly step: number;
    readonly x0: number;
    readonly y0: number;
    readonly columns: number;
    /** Row by row; null where there is no wood. */
    readonly angles: readonly (number | null)[];
  };
}

export interface TracedPhoto {
  readonly output: TraceOutput;
  readonly calibration: Calibration;
  readonly traced: Traced;
  /** The rectified face, cut to the slab with a margin around it. */
  readonly picture: FacePicture;
}

/**
 * All that one photo tells about a slab's face, from its pixels and the reference in it.
 * @throws InputProblem when the reference or the wood is not found; Cancelled when called off
 */
export declare function tracePhoto(cv: Cv, photo: Raster, scale: Scale, options?: TracePhotoOptions): Promise<TracedPhoto>;
