import * as v from 'valibot';
import { finite, id, notNegative, polygon, positive, text } from './shapes';

/** What resawing asks of a board and of the shop, over what every board and shop has. Lengths in mm; every field may be left out. */

const degrees = v.pipe(finite, v.minValue(0, 'must be at least 0'), v.maxValue(90, 'must not be over 90'));

/** A way of working through a board's thickness (the leaves room says what each does). */
const way = v.strictObject({
  start: v.picklist(['one face', 'both faces', 'halved']),
  /** Whether the sawn face is dressed between cuts. */
  dressed: v.boolean(),
  /** Whether the last piece is sawn on a carrier board. */
  carrier: v.boolean(),
});

/** Wood that no leaf may use: a stretch of the whole width, or an outline on the outer face, x from the left end, y from one edge. */
const spoilt = v.union(
  [
    v.pipe(
      v.strictObject({ id, from: notNegative, to: notNegative }),
      v.forward(
        v.check(({ from, to }) => from < to, 'must be further along than where it begins'),
        ['to'],
      ),
    ),
    v.strictObject({ id, polygon: polygon<'face'>() }),
  ],
  'must be a stretch { from, to } or a polygon',
);
export type Spoilt = v.InferOutput<typeof spoilt>;

/** Of a board. */
export const boardResaw = {
  /** What no leaf may use. */
  spoilt: v.optional(v.array(spoilt)),
  /**
   * Angle of the rings against the face, read at the end grain near one edge, in the middle and near the other: 0 flat, 90 quarter. Null was not
   * read.
   */
  ringDegrees: v.optional(v.strictTuple([v.nullable(degrees), v.nullable(degrees), v.nullable(degrees)])),
  /** How it is worked through; left out, as is usual. */
  way: v.optional(way),
  /** The offcut that it was, by its name then: 'O1 of Slab 2'. */
  offcut: v.optional(v.strictObject({ flitch: id, slab: id, name: text })),
};

/** Of the shop. */
export const shopResaw = {
  /** The tallest board that goes under the guides; left out, nobody said, and no board is ripped for it. */
  height: v.optional(v.nullable(positive)),
  /** Planed once off the back, where leaves come from it too; left out, as much as off the outer face. */
  backAllowance: v.optional(notNegative),
  /**
   * How far the blade wanders or leans over 100 mm of height, and how much a leaf may differ from edge to edge, for sanding to even it out. What
   * is over that is sawn thicker.
   */
  drift: v.optional(v.strictObject({ per100: notNegative, tolerance: notNegative })),
  /** Leaves kept over what the doors take. */
  spareLeaves: v.optional(
    v.pipe(v.number('must be a number'), v.integer('must be a whole number'), v.minValue(0), v.maxValue(50)),
  ),
};
