import type { Point } from '../geometry';
import type { Calibration } from '../job';

/** A calibration ready to measure with; make it once for many points. */
export interface Measure {
  /** Where the wood at a pixel lies on the face, with one standard deviation (mm, along the worst direction). Null above the horizon. */
  toFace(px: Point<'photo'>): { readonly mm: Point<'face'>; readonly sigma: number } | null;
  /** The same without the sigma: fast. */
  place(px: Point<'photo'>): Point<'face'> | null;
  /** Where a point of the face shows in the photo, px. */
  toPhoto(mm: Point<'face'>): Point<'photo'>;
  /** One standard deviation (mm) at a point of the face. */
  sigma(mm: Point<'face'>): number;
  /** Distance between two pixels along the plan, with its standard deviation; what the two ends share is not counted twice. */
  distance(a: Point<'photo'>, b: Point<'photo'>): { readonly mm: number; readonly sigma: number } | null;
}

export declare function measure(calibration: Calibration): Measure;
export declare function toFace(
  calibration: Calibration,
  px: Point<'photo'>,
): { readonly mm: Point<'face'>; readonly sigma: number } | null;
export declare function toPhoto(calibration: Calibration, mm: Point<'face'>): Point<'photo'>;
