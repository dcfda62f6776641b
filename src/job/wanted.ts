import * as v from 'valibot';
import { byId, finite, id, notNegative, polygon, positive, text } from './shapes';
import { DEFECT_KINDS } from './stock';

/** What the job is to yield: tops. Doors of matched leaves are in `doors`. */

/** The stretch of a live edge over which its swing is judged, mm: about what the eye takes in at once before a counter (ours). */
export const SWING_WITHIN = 500;

export const SAPWOOD_WISHES = ['wanted', 'allowed', 'not'] as const;

/** One end of a top, left and right as one stands before it. */
const end = v.strictObject({
  /** `live` leaves the slab's own end on. */
  edge: v.optional(v.picklist(['straight', 'live']), 'straight'),
  /**
   * Angle inside the top between its front and this end, degrees: 90 is square; 45 and 135 are mitres, the first with the shorter back (an outer
   * corner), the second with the shorter front (a counter turning an inner corner). The length is that of the longer side.
   */
  degrees: v.optional(
    v.pipe(finite, v.minValue(20, 'must be at least 20'), v.maxValue(160, 'must not be over 160')),
    90,
  ),
  /** A live end may fall short of the length by this much where it falls shortest, mm. */
  short: v.optional(positive, 40),
});
export type End = v.InferOutput<typeof end>;
const SQUARE: End = { edge: 'straight', degrees: 90, short: 40 };

/** The outline of a top that is no rectangle; its length and depth are those of the box around it. */
const shape = v.variant('kind', [
  /** From a drawing, in the top's frame. */
  v.strictObject({ kind: v.literal('polygon'), outline: polygon<'top'>() }),
  /** As wide as the top is long. */
  v.strictObject({ kind: v.literal('round') }),
  v.strictObject({ kind: v.literal('oval') }),
]);
export type TopShape = v.InferOutput<typeof shape>;

/** A hole for a sink, a hob or the like. */
const cutOut = v.strictObject({
  id,
  name: text,
  polygon: polygon<'top'>(),
  /** Wood kept between the hole and every edge of the top, mm. */
  keep: notNegative,
  /** Whether a seam may run through it. */
  seam: v.boolean(),
});

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
    back: v.optional(v.picklist(['straight', 'live']), 'straight'),
    /** x of the top runs from its right-hand end to its left. */
    ends: v.optional(v.strictObject({ right: end, left: end }), { right: SQUARE, left: SQUARE }),
    /** Null for a rectangle with the ends and edges that it is said to have. */
    shape: v.optional(v.nullable(shape), null),
    /** Most that a live edge may swing within any `SWING_WITHIN` mm of its length; null where it may as it will. */
    swing: v.optional(v.nullable(positive), null),
    /**
     * Angle inside the wood between the face and the live edge below it, degrees, for slabs of which one face only was traced: 90 is upright, over 90
     * the slab is wider below. Null where nobody measured it.
     */
    bevel: v.optional(
      v.nullable(v.pipe(finite, v.minValue(20, 'must be at least 20'), v.maxValue(160, 'must not be over 160'))),
      null,
    ),
    /** Most seams inside the top: 0 asks for one piece. */
    seams: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(4)),
    leastStrip: positive,
    /** Two halves opened like a book, the figure of the one mirrored in the other at the joint. */
    bookMatched: v.optional(v.boolean()),
    /** Keys over its seams as well, as a decoration: they hold nothing. */
    seamKeys: v.optional(v.boolean()),
    /** Parts of the top that are hidden or cut out; a defect there does not matter. */
    covered: byId(v.strictObject({ id, polygon: polygon<'top'>() })),
    /** Where no seam may run: over a divider, through a sink, under a key. */
    noSeam: v.optional(byId(v.strictObject({ id, polygon: polygon<'top'>() })), {}),
    cutOuts: v.optional(byId(cutOut), {}),
    /** Wood kept over the finished size to be scribed to walls at the back and the ends, mm. */
    scribe: v.optional(v.strictObject({ back: notNegative, right: notNegative, left: notNegative }), {
      back: 0,
      right: 0,
      left: 0,
    }),
    /** How far the wall behind it is out of straight, mm: kept at the back over the scribe. */
    wallBow: v.optional(notNegative, 0),
    /** How the grain may run against the length of the top, and how far to either side of that; null for along it, as the shop's seams may turn. */
    grain: v.optional(
      v.nullable(
        v.strictObject({
          degrees: v.pipe(finite, v.minValue(-90), v.maxValue(90)),
          tolerance: v.pipe(finite, v.minValue(0), v.maxValue(90)),
        }),
      ),
      null,
    ),
    /** Defects that are wanted for their looks. */
    liked: v.optional(v.array(v.picklist(DEFECT_KINDS)), []),
    /** Whether sapwood should show in it, may, or must not; on covered parts it does not matter. */
    sapwood: v.optional(v.picklist(SAPWOOD_WISHES), 'allowed'),
    /** The line that is screwed fast; the rest slides. Counters usually hold at the front (practice, no source). */
    fast: v.optional(v.picklist(['front', 'middle', 'back']), 'front'),
    /**
     * The size that was proposed where the maker had typed none, and what it follows: `habit` a usual one while no slab was measured, `slabs` a usual
     * one that the slabs give, `most` as large as they give, `none` a usual one though nothing was found that they give. Said while it is that size.
     */
    proposed: v.optional(
      v.strictObject({
        length: positive,
        depth: v.strictTuple([positive, positive]),
        thickness: positive,
        from: v.picklist(['habit', 'slabs', 'most', 'none']),
      }),
    ),
  }),
  v.forward(
    v.check(({ depth }) => depth[0] <= depth[1], 'the least depth must not be more than the most'),
    ['depth'],
  ),
);
export type Top = v.InferOutput<typeof topSchema>;
