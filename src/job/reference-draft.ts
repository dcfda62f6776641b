import * as v from 'valibot';
import { finite, notNegative, point, positive } from './shapes';

/**
 * What lies on the slab as far as it was typed and clicked, kept with the photo until the photo is measured by it, so that nothing typed is
 * lost. It holds every kind at once: who looks at another kind and comes back finds all as it was. null was not typed yet; a `Scale` is
 * what it becomes when it is whole.
 */
const pixel = point<'photo'>();

const rodDraft = v.strictObject({
  ends: v.pipe(v.array(pixel), v.maxLength(2)),
  length: v.nullable(positive),
  marks: v.array(v.strictObject({ px: pixel, at: v.nullable(finite) })),
  corners: v.pipe(v.array(pixel), v.maxLength(4)),
  width: v.nullable(positive),
  above: notNegative,
});
export type RodDraft = v.InferOutput<typeof rodDraft>;

export const referenceDraftSchema = v.strictObject({
  kind: v.picklist(['markers', 'paper', 'points', 'rods', 'slab']),
  /** Side of a printed card's black square, mm. */
  side: positive,
  /** Measured places of the cards' middles, by number. */
  centres: v.array(
    v.strictObject({ card: v.nullable(notNegative), at: v.strictTuple([v.nullable(finite), v.nullable(finite)]) }),
  ),
  sheet: v.strictObject({ width: positive, height: positive }),
  points: v.array(v.strictObject({ px: pixel, mm: v.strictTuple([v.nullable(finite), v.nullable(finite)]) })),
  rods: v.array(rodDraft),
  /** Where the slab's own length and widths were taped, tap by tap: the two ends, then the two edges at each width. */
  slab: v.optional(v.pipe(v.array(v.nullable(pixel)), v.maxLength(8))),
  /** The reference lies this far (mm) below the face. */
  drop: finite,
  cameraHeight: v.nullable(positive),
  /** Whether what an earlier photo taught about this camera is used; left out while nobody has said. */
  lens: v.optional(v.boolean()),
});
export type ReferenceDraft = v.InferOutput<typeof referenceDraftSchema>;
