import type { Point, Polygon } from '../geometry';
import { grainField } from '../grain';
import type { Calibration, Scale } from '../job';
import type { Raster } from '../raster';
import { pause, stage, unwatched } from '../search';
import { InputProblem } from '../units';
import type { Cv } from './cv';
import { type Measure, measure } from './measure';
import { type FaceRead, type ReadFaceOptions, readFace } from './read-face';
import type { ProposedDefect } from './trace-types';

export interface TracePhotoOptions extends ReadFaceOptions {
  /** Pixels to measure, and pairs of their indices whose distance is wanted. */
  readonly points?: {
    readonly px: readonly Point<'photo'>[];
    readonly distances?: readonly (readonly [number, number])[];
  };
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

/** A face as it was read, with all that the `trace` command says of it. */
export interface TracedPhoto extends FaceRead {
  readonly output: TraceOutput;
}

/** Distance between nodes of the grain field, mm. */
const GRAIN_STEP = 20;

/**
 * All that one photo tells about a slab's face, from its pixels and the reference in it: the face, points wanted, and the grain.
 * @throws InputProblem when the reference or the wood is not found; Cancelled when called off
 */
export async function tracePhoto(
  cv: Cv,
  photo: Raster,
  scale: Scale,
  options: TracePhotoOptions = {},
): Promise<TracedPhoto> {
  const control = { ...unwatched(), ...options.control };
  const face = await readFace(cv, photo, scale, { ...options, control: stage(control, 0, 0.9) });
  const { calibration, traced, picture } = face;
  await pause(control, 0.9, 'Reading the grain');
  const measured = measuredPoints(measure(calibration), options.points);
  const grain = grainField(picture, traced.outline, { step: options.grainStep ?? GRAIN_STEP });
  control.progress(1);
  const { width, height, residualPx, sigma, lens, outliers } = calibration;
  const output: TraceOutput = {
    photo: { width, height },
    calibration: { residualPx, sigma, lens, outliers },
    outline: traced.outline.outer,
    bark: traced.bark,
    outlineSigma: traced.outlineSigma,
    sapwood: traced.sapwood,
    defects: traced.defects,
    ...measured,
    rectified: { mmPerPx: picture.mmPerPx, x0: picture.x0, y0: picture.y0 },
    grain: {
      step: grain.step,
      x0: grain.x0,
      y0: grain.y0,
      columns: grain.columns,
      angles: Array.from(grain.angles, (angle) => (Number.isNaN(angle) ? null : angle)),
    },
  };
  return { ...face, output };
}

/** Points and distances that the caller wants. */
function measuredPoints(view: Measure, wanted: TracePhotoOptions['points']): Pick<TraceOutput, 'points' | 'distances'> {
  const px = wanted?.px ?? [];
  const offPlane = (where: string) =>
    new InputProblem(
      'This pixel does not show the plane of the face: it lies beyond its horizon.',
      where,
      'Choose a pixel on the wood.',
    );
  const points = px.map((at, i) => {
    const seen = view.toFace(at);
    if (!seen) throw offPlane(`/px/${i}`);
    return { px: at, mm: seen.mm, sigma: seen.sigma };
  });
  const distances = (wanted?.distances ?? []).map(([i, j], k) => {
    const seen = view.distance(px[i] as Point<'photo'>, px[j] as Point<'photo'>);
    if (!seen) throw offPlane(`/distances/${k}`);
    return { mm: seen.mm, sigma: seen.sigma };
  });
  return { points, distances };
}
