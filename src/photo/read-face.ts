import { type Bounds, bounds, offset, type Point, type Polygon } from '../geometry';
import type { Calibration, Scale } from '../job';
import type { FacePicture, Raster } from '../raster';
import { type Control, pause, stage, unwatched } from '../search';
import type { CalibrateOptions } from './calibrate';
import type { Cv } from './cv';
import { laidOf } from './laid';
import { type Measure, measure } from './measure';
import { outlineDoubt } from './outline-doubt';
import { paperLight, relit } from './paper-light';
import { checkPhotoShape } from './photo-file';
import { crop, shrink } from './pictures';
import type { FaceReading } from './readings';
import { rectify, visible } from './rectify';
import { settled, sightedIn } from './sighted';
import { trace } from './trace';
import type { Side, Traced, TraceOptions } from './trace-types';
import { calibrationAt, type Size } from './working-copy';

export interface ReadFaceOptions extends CalibrateOptions, Pick<TraceOptions, 'control'> {
  /** mm per pixel of the rectified picture; the photo's own detail where left out. */
  readonly resolution?: number;
  /** Lines drawn by hand on the photo, px. */
  readonly strokes?: readonly { readonly line: readonly Point<'photo'>[]; readonly kind: 'wood' | 'not wood' }[];
  /** Heights of this face as they were read, in the frame that the reference gives: a warped face is then measured point by point. */
  readonly readings?: readonly FaceReading[];
  /** Size of the photo where what is given is a smaller copy of it: pixels that go in and out are the photo's. */
  readonly full?: Size;
  /** Hears parts of the answer as soon as they are known, and is waited for. */
  readonly heard?: (part: EarlyPart) => void | Promise<void>;
}

/** What is known before all is: what the photo shows, seen from above; where the wood in it is; then its edge, to be corrected. */
export type EarlyPart =
  | { readonly kind: 'preview'; readonly picture: FacePicture }
  | { readonly kind: 'wood'; readonly wood: Polygon<'face'> }
  | ({ readonly kind: 'outline' } & FaceRead);

/** What a photo tells about a slab's face. */
export interface FaceRead {
  readonly calibration: Calibration;
  readonly traced: Traced;
  /** The rectified face, cut to the slab with a margin around it, in even white light where paper in the photo told of its light. */
  readonly picture: FacePicture;
}

/** Finest and coarsest picture of a face that is worth making, mm per pixel. */
export const FINEST = 0.5;
export const COARSEST = 2;
/** The picture of the face that is kept reaches so far beyond the wood, mm. */
export const AROUND = 60;
/** The whole photo is looked at with at most so many pixels along it: to find the wood, less detail does. */
export const WHOLE_PX = 2000;
/** Pixels along the picture that is shown before the wood is traced. */
const PREVIEW_PX = 1000;
/** Places along each side of the photo's border that its ring on the face goes through. */
const FRAME_STEPS = 40;
/** A point of the outline this near to the photo's frame, px, was cut off by it. */
const FRAME = 6;

/**
 * Measures and traces the face of a slab that a photo shows, by the reference in it.
 * @throws InputProblem when the reference or the wood is not found; Cancelled when called off
 */
export async function readFace(cv: Cv, photo: Raster, scale: Scale, options: ReadFaceOptions = {}): Promise<FaceRead> {
  const control: Control = { ...unwatched(), ...options.control };
  checkPhotoShape(options.full ?? photo, '');
  await pause(control, 0, 'Finding the reference');
  const sighted = sightedIn(cv, photo, scale, options);
  const calibration = settled(sighted, options.readings);
  const view = measure(calibration);
  await pause(control, 0.25, 'Looking at the face from above');
  const seen = visible(view, calibration.width, calibration.height);
  const longer = Math.max(seen.maxX - seen.minX, seen.maxY - seen.minY);
  const mmPerPx = Math.min(COARSEST, Math.max(FINEST, detailOf(measure(calibrationAt(calibration, photo)), photo)));
  const whole = rectify(cv, photo, calibration, {
    mmPerPx: Math.max(mmPerPx, longer / WHOLE_PX),
    bounds: seen,
    alpha: true,
  });
  await options.heard?.({ kind: 'preview', picture: shrink(cv, whole, longer / PREVIEW_PX) });
  const laid = laidOf(sighted, calibration);
  const cards = scale.kind === 'markers' || scale.kind === 'paper' ? laid.map(({ polygon }) => polygon) : [];
  const light = paperLight(whole, cards);
  let near = whole;
  const closer = (part: Bounds): FacePicture => {
    near = rectify(cv, photo, calibration, { mmPerPx, bounds: part, alpha: true });
    return near;
  };
  const pictureOf = ({ outer }: Traced['outline']): FacePicture => {
    const box = bounds(offset([{ outer, holes: [] }], AROUND).flatMap((region) => region.outer));
    const { resolution } = options;
    const shot = resolution ? rectify(cv, photo, calibration, { mmPerPx: resolution, bounds: box }) : crop(near, box);
    return light ? relit(shot, light) : shot;
  };
  let picture: FacePicture | null = null;
  const found = await trace(cv, whole, {
    laid,
    points: pointsOnWood(scale, view),
    strokes: (options.strokes ?? []).map(({ line, kind }) => ({
      kind,
      line: line.map((px) => view.place(px)).filter((at) => at !== null),
    })),
    sigma: ({ outer }) => outlineDoubt(scale, calibration, outer),
    frame: frameOf(view, calibration),
    closer,
    rough: (wood) => void options.heard?.({ kind: 'wood', wood }),
    outlined: async (known) => {
      if (!options.heard) return;
      picture = pictureOf(known.outline);
      const traced: Traced = { ...known, defects: [], cutOff: cutOffSides(known.outline, view, calibration) };
      await options.heard({ kind: 'outline', calibration, traced, picture });
    },
    control: stage(control, 0.35, 1),
  });
  const traced: Traced = { ...found, cutOff: cutOffSides(found.outline, view, calibration) };
  return { calibration, traced, picture: picture ?? pictureOf(traced.outline) };
}

/** Clicked points that lie on the wood or around it. */
function pointsOnWood(scale: Scale, view: Measure): Point<'face'>[] {
  if (scale.kind === 'points') return scale.points.map(({ mm }) => mm);
  if (scale.kind !== 'slab') return [];
  return [scale.length, ...scale.widths].flatMap(({ px }) => px.map(view.place)).filter((at) => at !== null);
}

/** mm of the face that one pixel in the photo's middle shows. */
export function detailOf(view: Measure, { width, height }: Raster): number {
  const [u, v] = [(width - 1) / 2, (height - 1) / 2];
  const [p, q, r] = [view.place([u, v]), view.place([u + 1, v]), view.place([u, v + 1])];
  if (!p || !q || !r) return COARSEST;
  return Math.min(Math.hypot(q[0] - p[0], q[1] - p[1]), Math.hypot(r[0] - p[0], r[1] - p[1]));
}

/** What the photo shows of the face, as a ring: the photo's border, px by px where the lens bends it. A border beyond the horizon is left out. */
export function frameOf(view: Measure, { width, height }: Size): Polygon<'face'> {
  const [right, bottom] = [width - 0.5, height - 0.5];
  const corners = [
    [-0.5, -0.5],
    [right, -0.5],
    [right, bottom],
    [-0.5, bottom],
  ] as const;
  const border = corners.flatMap(([u, v], i) => {
    const [x, y] = corners[(i + 1) % 4] as readonly [number, number];
    return Array.from({ length: FRAME_STEPS }, (_, k): Point<'photo'> => {
      const t = k / FRAME_STEPS;
      return [u + (x - u) * t, v + (y - v) * t];
    });
  });
  return border.map((px) => view.place(px)).filter((at) => at !== null);
}

/** Sides of the photo that the wood runs out of. */
export function cutOffSides({ outer }: Traced['outline'], view: Measure, { width, height }: Size): Side[] {
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
