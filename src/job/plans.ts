import * as v from 'valibot';
import { byId, finite, id, notNegative, polygon, positive, segment, text } from './shapes';

/**
 * A plan as the document keeps it: what was decided, and the few figures that a list of plans shows. Budgets, keys, areas and
 * the cutting map are computed from it and never stored, so they cannot contradict it.
 */

/** One strip of a top: where it lies on its slab. Strips stand in order from the front of the top to its back. */
const strip = v.strictObject({
  flitch: id,
  slab: id,
  face: v.picklist(['top', 'bottom']),
  /** Affine map face -> top: x' = a x + c y + e, y' = b x + d y + f. */
  toTop: v.strictTuple([finite, finite, finite, finite, finite, finite]),
  /** The finished piece on the slab's face, joint edges and live edge included. */
  finished: polygon<'face'>(),
  /** The blank as it is rough-cut: finished plus allowances, as far as the wood goes. */
  rough: polygon<'face'>(),
  /** Joint lines towards the strip in front and the strip behind, along the finished length; null at an outer edge. */
  jointFront: v.nullable(segment<'face'>()),
  jointBack: v.nullable(segment<'face'>()),
  /** Where the rest goes when the blank gets thicker than wanted: off both faces alike where left out, or so that one keeps its figure. */
  spare: v.optional(v.picklist(['balanced', 'keep top', 'keep bottom'])),
  /** A face that planing may leave low in places, over no more than this share of the blank. */
  accept: v.optional(
    v.strictObject({ face: v.picklist(['top', 'bottom']), skip: v.pipe(finite, v.minValue(0), v.maxValue(0.1)) }),
  ),
});
export type Strip = v.InferOutput<typeof strip>;

const joint = v.strictObject({
  /** Share of imaginary kerfs in uncut wood that match no better (DESIGN 5.3); null where there is no picture to tell. */
  blend: v.nullable(v.pipe(finite, v.minValue(0), v.maxValue(1))),
  /** Two-sided line match, -1 to 1. */
  lines: v.nullable(finite),
  /** How far the strip behind is moved along the joint of the strip in front. */
  slide: finite,
  /** Whether the strip behind is turned end for end. */
  flipped: v.boolean(),
  /** `reglued`: a crack or the pith was ripped out between the strips, which are glued shut. `book`: the strips are opened like a book. */
  made: v.optional(v.picklist(['reglued', 'book'])),
  /** What was ripped out of a reglued joint: a defect of the face, or the pith. */
  ripped: v.optional(id),
  /** The tape has moved the strips since: how the seam looks is of before. */
  before: v.optional(v.literal(true)),
});
export type Joint = v.InferOutput<typeof joint>;

/** A key that the maker set: on a crack of the top, as reports call it. */
const setKey = v.strictObject({
  crack: text,
  /** From the crack's first tip inside the top to the key's middle, along the crack, mm. */
  along: notNegative,
  size: id,
  /** The face that it is let into; `both` is one from each. */
  face: v.picklist(['top', 'bottom', 'both']),
  /** Turned off square to the crack, degrees. */
  turn: v.optional(v.pipe(finite, v.minValue(-45), v.maxValue(45)), 0),
});
export type SetKey = v.InferOutput<typeof setKey>;

const placement = v.strictObject({
  top: id,
  strips: v.pipe(v.array(strip), v.minLength(1)),
  /** One joint fewer than strips: joint i lies between strip i and strip i + 1. */
  joints: v.array(joint),
  /** Depth of the finished top, least and most along its length. */
  depth: v.strictTuple([positive, positive]),
  /** Finished thickness that its thinnest strip still gives, after all reserves; null without readings. */
  thickness: v.nullable(finite),
  /** The top's keys where the maker set them; left out, they are where they are proposed. */
  keys: v.optional(v.array(setKey)),
});
export type Placement = v.InferOutput<typeof placement>;

/** Why a wanted top cannot be had: which limit binds and by how much it misses. */
const miss = v.strictObject({
  top: id,
  limit: v.picklist([
    'length',
    'depth',
    'thickness',
    'defect',
    'sapwood',
    'stock',
    'seams',
    'swing',
    'zone',
    'cut-out',
    'stairs',
  ]),
  by: notNegative,
  message: text,
});
export type Miss = v.InferOutput<typeof miss>;

export const planSchema = v.strictObject({
  id,
  name: text,
  placements: byId(placement),
  misses: v.array(miss),
  /** Share of the used slabs' area that becomes neither part nor kept offcut, 0..1. */
  waste: v.pipe(finite, v.minValue(0), v.maxValue(1)),
  cost: v.nullable(notNegative),
  /** How much better the best plan could still be, as the solver proves it; 0 is proven best of those searched. */
  gap: notNegative,
});
export type Plan = v.InferOutput<typeof planSchema>;

/** A placement that the solver must keep. */
export const lockSchema = v.strictObject({ id, plan: id, top: id });
