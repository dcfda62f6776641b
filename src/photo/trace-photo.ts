import { type Bounds, bounds, offset, type Point, type Polygon } from '../geometry';
import { grainField } from '../grain';
import type { Calibration, Scale } from '../job';
import type { FacePicture, Raster } from '../raster';
import { pause, stage, unwatched } from '../search';
import { InputProblem } from '../units';
import { type CalibrateOptions, calibrate } from './calibrate';
import type { Cv } from './cv';
import { laidOf } from './laid';
import { type Measure, measure } from './measure';
import { crop } from './pictures';
import { type FaceReading, heightsFrom } from './readings';
import { rectify, visible } from './rectify';
import { trace } from './trace';
import type { ProposedDefect, Side, Traced, TraceOptions } from './trace-types';

export interface TracePhotoOptions extends CalibrateOptions, Pick<TraceOptions, 'control'> {
  /** Pixels to measure, and pairs of their indices whose distance is wanted. */
  readonly points?: {
    readonly px: readonly Point<'photo'>[];
    readonly distances?: readonly (readonly [number, number])[];
  };
  /** mm per pixel of the rectified picture; the photo's own detail where left out. */
  readonly resolution?: number;
  /** Lines drawn by hand on the photo, px. */
  readonly strokes?: readonly { readonly line: readonly Point<'photo'>[]; readonly kind: 'wood' | 'not wood' }[];
  /** Heights of this face as they were read, in the frame that the reference gives: a warped face is then measured point by point. */
  readonly readings?: readonly FaceReading[];
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

/** Finest and coarsest picture of a face that is worth making, mm per pixel. */
const FINEST = 0.5;
const COARSEST = 2;
/** The picture of the face that is kept reaches so far beyond the wood, mm. */
const AROUND = 60;
/** Distance between nodes of the grain field, mm. */
const GRAIN_STEP = 20;
/** The whole photo is looked at with at most so many pixels: to find the wood, less detail does. */
const WHOLE_PIXELS = 12e6;
/** A point of the outline this near to the photo's frame, px, was cut off by it. */
const FRAME = 6;

/**
 * All that one photo tells about a slab's face, from its pixels and the reference in it.
 * @throws InputProblem when the reference or the wood is not found; Cancelled when called off
 */
export async function tracePhoto(
  cv: Cv,
  photo: Raster,
  scale: Scale,
  options: TracePhotoOptions = {},
): Promise<TracedPhoto> {
  const control = { ...unwatched(), ...options.control };
  await pause(control, 0, 'Finding the reference');
  const calibration = settled(cv, photo, scale, options);
  const view = measure(calibration);
  const measured = measuredPoints(view, options.points);
  await pause(control, 0.25, 'Looking at the face from above');
  const mmPerPx = Math.min(COARSEST, Math.max(FINEST, detailOf(view, photo)));
  const seen = withAlpha(photo);
  const { minX, minY, maxX, maxY } = visible(view, photo.width, photo.height);
  const coarser = Math.max(mmPerPx, Math.sqrt(((maxX - minX) * (maxY - minY)) / WHOLE_PIXELS));
  const whole = rectify(cv, seen, calibration, { mmPerPx: coarser });
  let near = whole;
  const closer = (part: Bounds): FacePicture => {
    near = rectify(cv, seen, calibration, { mmPerPx, bounds: part });
    return near;
  };
  const laid = laidOf(cv, photo, scale, view);
  const found = await trace(cv, whole, {
    laid,
    points: scale.kind === 'points' ? scale.points.map(({ mm }) => mm) : [],
    strokes: (options.strokes ?? []).map(({ line, kind }) => ({
      kind,
      line: line.map((px) => view.place(px)).filter((at) => at !== null),
    })),
    sigma: medianSigma(calibration),
    closer,
    control: stage(control, 0.35, 0.9),
  });
  const traced: Traced = { ...found, cutOff: cutOffSides(found.outline, view, photo) };
  await pause(control, 0.9, 'Reading the grain');
  const box = bounds(offset([traced.outline], AROUND).flatMap(({ outer }) => outer));
  const picture =
    options.resolution === undefined
      ? crop(near, box)
      : rectify(cv, photo, calibration, { mmPerPx: options.resolution, bounds: box });
  const grain = grainField(picture, traced.outline, { step: options.grainStep ?? GRAIN_STEP });
  control.progress(1);
  const { residualPx, sigma, lens, outliers } = calibration;
  const output: TraceOutput = {
    photo: { width: photo.width, height: photo.height },
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
  return { output, calibration, traced, picture };
}

/** The calibration; where the face has been read, once more with the wood's own heights in it. */
function settled(cv: Cv, photo: Raster, scale: Scale, options: TracePhotoOptions): Calibration {
  const first = calibrate(cv, photo, scale, options);
  if (scale.heights || !options.readings) return first;
  const heights = heightsFrom(options.readings, measure(first));
  return heights.length === 0 ? first : calibrate(cv, photo, { ...scale, heights }, options);
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

/** mm of the face that one pixel in the photo's middle shows. */
function detailOf(view: Measure, { width, height }: Raster): number {
  const [u, v] = [(width - 1) / 2, (height - 1) / 2];
  const [p, q, r] = [view.place([u, v]), view.place([u + 1, v]), view.place([u, v + 1])];
  if (!p || !q || !r) return COARSEST;
  return Math.min(Math.hypot(q[0] - p[0], q[1] - p[1]), Math.hypot(r[0] - p[0], r[1] - p[1]));
}

/** The photo with a channel that is opaque, so that a rectified picture tells what the photo did not see. */
function withAlpha(photo: Raster): Raster {
  const { width, height, channels, data } = photo;
  if (channels === 4) return photo;
  const out = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let i = 0; i < width * height; i++) {
    for (let k = 0; k < 3; k++) out[4 * i + k] = data[i * channels + (channels === 1 ? 0 : k)] as number;
  }
  return { width, height, channels: 4, data: out };
}

/** Median of one standard deviation over the photo: what a point of the outline is usually off by. */
function medianSigma({ sigma }: Calibration): number {
  const sorted = sigma.map(({ mm }) => mm).sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? 0;
}

/** Sides of the photo that the wood runs out of. */
function cutOffSides({ outer }: Traced['outline'], view: Measure, { width, height }: Raster): Side[] {
  const sides = new Set<Side>();
  for (const p of outer) {
    const [u, v] = view.toPhoto(p);
    if (u < FRAME) sides.add('left');
    if (u > width - 1 - FRAME) sides.add('right');
    if (v < FRAME) sides.add('top');
    if (v > height - 1 - FRAME) sides.add('bottom');
  }
  return [...sides];
}
