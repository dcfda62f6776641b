import * as v from 'valibot';
import { finite, notNegative, point, positive } from './shapes';

/**
 * What a photo is measured by: the reference that was laid on the slab (COMMANDS, trace). The command line's SCALE.json
 * and the job document share this shape.
 */
const pixel = point<'photo'>();
const pixelPair = v.strictTuple([pixel, pixel]);

const common = {
  /** Tape checks between two clicked points; they take part in the fit. */
  distances: v.optional(v.array(v.strictObject({ px: pixelPair, length: positive }))),
  /** The reference lies this far (mm) below the face. */
  drop: v.optional(finite),
  /** Height of the camera over the reference, mm, where known. */
  cameraHeight: v.optional(positive),
  /** How far the wood stands out over the mean plane of its face at these points, mm. */
  heights: v.optional(v.array(v.strictObject({ px: pixel, z: finite }))),
  /** This camera's lens; focal in units of the photo's longer side; one standard deviation of each where known. */
  lens: v.optional(
    v.strictObject({ focal: positive, k1: finite, focalSigma: v.optional(positive), k1Sigma: v.optional(positive) }),
  ),
};

/** Square fiducial markers on the face; `side` in mm, measured on the print. */
const markers = v.strictObject({
  kind: v.literal('markers'),
  dictionary: v.picklist(['4x4_50']),
  side: positive,
  centres: v.optional(v.record(v.pipe(v.string(), v.regex(/^\d+$/)), point<'face'>())),
  ...common,
});

/** One white sheet of paper. */
const paper = v.strictObject({ kind: v.literal('paper'), width: positive, height: positive, ...common });

/** Four or more points whose places on the face are known. */
const points = v.strictObject({
  kind: v.literal('points'),
  points: v.pipe(
    v.array(v.strictObject({ px: pixel, mm: point<'face'>() })),
    v.minLength(4, 'must have at least four points'),
  ),
  ...common,
});

const rod = v.strictObject({
  px: pixelPair,
  length: positive,
  marks: v.optional(v.array(v.strictObject({ px: pixel, at: finite }))),
  corners: v.optional(v.strictTuple([pixel, pixel, pixel, pixel])),
  width: v.optional(positive),
  above: v.optional(notNegative),
});

/** Rods or tapes of known length in different directions. */
const rods = v.strictObject({
  kind: v.literal('rods'),
  rods: v.pipe(v.array(rod), v.minLength(1, 'must have at least one rod')),
  ...common,
});

const span = v.strictObject({ px: pixelPair, mm: positive });

/** Nothing was laid on the slab: its own length, end to end, and its widths, as they were taped near the left end, amid and near the right end. */
const slab = v.strictObject({
  kind: v.literal('slab'),
  length: span,
  widths: v.strictTuple([span, span, span]),
  ...common,
});

export const scaleSchema = v.variant('kind', [markers, paper, points, rods, slab]);
export type Scale = v.InferOutput<typeof scaleSchema>;
export type Rod = v.InferOutput<typeof rod>;

/**
 * What the photo room found: the camera over the face's mean plane, how sure it is, and what it left out.
 * `homography` maps face mm (x, y, 1) on that plane to undistorted pixels, row by row; `lens` distorts them about `centre` (k1 on
 * radii in units of the focal length) and is null where the photo did not teach it. `parameters` (the photo room's own: turn, shift,
 * focal in px, k1, centre, k2) and their `covariance` (row by row, square) carry ± to any point.
 */
export const calibrationSchema = v.strictObject({
  /** Size of the photo that it was found on, px. */
  width: positive,
  height: positive,
  homography: v.pipe(v.array(finite), v.length(9)),
  lens: v.nullable(v.strictObject({ focal: positive, k1: finite })),
  centre: pixel,
  parameters: v.array(finite),
  covariance: v.array(finite),
  residualPx: notNegative,
  /** How far the wood stands out over the mean plane of its face, from readings; null where none were given. */
  relief: v.nullable(v.array(v.strictObject({ at: point<'face'>(), z: finite }))),
  /** One standard deviation (mm) of a measured point, on a grid over the photo. */
  sigma: v.array(v.strictObject({ at: point<'face'>(), mm: notNegative })),
  /** References that were left out of the fit: "marker 3", "point 2", "rod 1", "distance 1" (counted from 1; markers by their number). */
  outliers: v.array(v.string()),
  /** Why, one sentence each, where it can be told. */
  reasons: v.optional(v.array(v.strictObject({ name: v.string(), why: v.string() }))),
  /** What speaks against the lens that was given, where the photo's own marks do; it was then not used. */
  lensRefused: v.optional(v.string()),
  /** Tape checks that were left out, and how much longer (mm) the photo says each is. */
  refused: v.array(v.strictObject({ distance: v.pipe(v.number(), v.integer()), mm: finite })),
});
export type Calibration = v.InferOutput<typeof calibrationSchema>;
