import * as v from 'valibot';
import { byId, id, notNegative, polygon, positive, text } from './shapes';

/** What the job is to yield: tops, and doors of matched leaves. */

export const SAPWOOD_WISHES = ['wanted', 'allowed', 'not'] as const;

export const topSchema = v.pipe(
  v.strictObject({
    id,
    name: text,
    /** How many alike; each is laid out on its own (wanted-tops.ts). */
    count: v.optional(v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(50)), 1),
    length: positive,
    /** Least and most depth: of the whole top from its straight back to its front edge, held along the whole length. */
    depth: v.strictTuple([positive, positive]),
    /** Finished thickness. */
    thickness: positive,
    front: v.picklist(['live', 'straight']),
    /** Most seams inside the top: 0 asks for one piece. */
    seams: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(4)),
    leastStrip: positive,
    /** Two halves opened like a book, the figure of the one mirrored in the other at the joint. */
    bookMatched: v.optional(v.boolean()),
    /** Parts of the top that are hidden or cut out; a defect there does not matter. */
    covered: byId(v.strictObject({ id, polygon: polygon<'top'>() })),
    /** Whether sapwood should show in it, may, or must not; on covered parts it does not matter. */
    sapwood: v.optional(v.picklist(SAPWOOD_WISHES), 'allowed'),
    /** The line that is screwed fast; the rest slides. Counters usually hold at the front (practice, no source). */
    fast: v.optional(v.picklist(['front', 'middle', 'back']), 'front'),
  }),
  v.forward(
    v.check(({ depth }) => depth[0] <= depth[1], 'the least depth must not be more than the most'),
    ['depth'],
  ),
);
export type Top = v.InferOutput<typeof topSchema>;

export const doorSchema = v.strictObject({
  id,
  name: text,
  width: positive,
  height: positive,
  count: v.pipe(v.number(), v.integer(), v.minValue(1)),
  match: v.picklist(['book', 'slip', 'reverse slip', 'random']),
  /** Veneer both faces alike, so that the panel stays flat. */
  backed: v.boolean(),
  /** Wood kept around the panel for trimming after the press, each side. */
  trim: notNegative,
});
export type Door = v.InferOutput<typeof doorSchema>;
