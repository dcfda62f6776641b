import type { Polygon, Region } from '../geometry';
import type { FacePicture } from '../raster';
import type { Cv } from './cv';
import { edgesOf, noWood } from './outline';
import { segmentAgain } from './segment';
import type { Edges, Stroke, TraceOptions } from './trace-types';

export interface RetraceOptions {
  /** The calibration's part of the outline's doubt, one standard deviation, mm. */
  readonly sigma?: number;
  /** The outline as it is. */
  readonly outline: Region<'face'>;
  /** All strokes drawn on this face, mm. */
  readonly strokes: readonly Stroke[];
  /** What lies on the wood and hides it, as the face keeps it. */
  readonly hidden: readonly Polygon<'face'>[];
}

/**
 * The edges anew after strokes were drawn by hand, from a rectified picture of the face and the outline so far; no calibration, no defects.
 * What lies beyond the picture cannot be found: for that the photo is traced again with the same strokes.
 * @throws InputProblem when no wood is left
 */
export function retrace(cv: Cv, picture: FacePicture, options: RetraceOptions): Edges {
  const { outline, strokes, hidden, sigma = 0 } = options;
  const hints: TraceOptions = {
    strokes,
    sigma: () => sigma,
    laid: hidden.map((polygon) => ({ polygon, onWood: true })),
  };
  const wood = segmentAgain(cv, picture, hints, outline);
  if (!wood) throw noWood();
  return edgesOf(picture, wood, hints);
}
