import * as v from 'valibot';
import type { Point } from '../geometry';
import { id, notNegative, point, polygon, positive, text } from './shapes';

/** Doors and drawer fronts of matched leaves: what is wanted. All lengths in mm; the grain of a front runs up its height. */

/**
 * How leaves lie beside each other (terms after the Architectural Woodwork Standards 2009, 4-1.2.20 to 4-1.2.22): each is geometry,
 * kept as data in the leaves room.
 */
export const MATCHES = [
  'book',
  'slip',
  'reverse slip',
  'slip centre book',
  'random',
  'four-piece',
  'diamond',
  'reverse diamond',
  'radial',
  'herringbone',
] as const;
export type Match = (typeof MATCHES)[number];

/**
 * How the width of a panel is shared out among its leaves: `balanced`, equal widths; `centred`, with the figure's middle or a joint on the panel's
 * centre line, the outer leaves cut alike; `balanced and centred`, an even number of equal widths with a joint on the centre line;
 * `running`, whole leaves from one side, the last one cut.
 */
export const ARRANGEMENTS = ['balanced', 'centred', 'balanced and centred', 'running'] as const;
export type Arrangement = (typeof ARRANGEMENTS)[number];

/** How leaves meet end to end in a front that is taller than they are: mirrored row on row, laid on as they are, or mirrored leaf by leaf. */
export const END_MATCHES = ['book', 'butt', 'alternating'] as const;
export type EndMatch = (typeof END_MATCHES)[number];

export const GRADES = ['economy', 'custom', 'premium'] as const;
export type Grade = (typeof GRADES)[number];

/** Rails and stiles of solid wood round a veneered panel. */
const frame = v.strictObject({
  /** Width of each stile, and of the top and the bottom rail, as they are seen. */
  stile: positive,
  topRail: positive,
  bottomRail: positive,
  /** Depth of the groove that the panel stands in. */
  groove: notNegative,
  /** Kept free at the bottom of the groove, each side. */
  clearance: v.optional(notNegative, 1),
  /** Length of a rail's tongue or tenon in the stile, each end; left out, as deep as the groove. */
  tenon: v.optional(notNegative),
});
export type DoorFrame = v.InferOutput<typeof frame>;

const whole = (least: number, most: number) =>
  v.pipe(v.number('must be a number'), v.integer('must be a whole number'), v.minValue(least), v.maxValue(most));

export const doorSchema = v.strictObject({
  id,
  name: text,
  width: positive,
  height: positive,
  count: whole(1, 1000),
  match: v.picklist(MATCHES),
  /** Veneer both faces alike, so that the panel stays flat. */
  backed: v.boolean(),
  /** Wood kept around the panel for trimming after the press, each side. */
  trim: notNegative,
  /** Upper left corners in the elevation, one a copy; copies without one stand in a row to the right of all others. */
  at: v.optional(v.array(point<'elevation'>()), []) as v.GenericSchema<
    readonly Point<'elevation'>[] | undefined,
    readonly Point<'elevation'>[]
  >,
  arrangement: v.optional(v.picklist(ARRANGEMENTS), 'balanced'),
  /** Leaves side by side in one front (wedges of a radial match, columns of a herringbone); null, as few as the leaves allow. */
  leaves: v.optional(v.nullable(whole(1, 32)), null),
  /** How leaves meet end to end, and in how many rows; null, in one length. */
  ends: v.optional(v.nullable(v.strictObject({ match: v.picklist(END_MATCHES), rows: whole(2, 4) })), null),
  /** Fronts of one name carry their grain on across the gaps between them; null stands alone. */
  run: v.optional(v.nullable(text), null),
  /** Fronts of one name are cut from one board; null, from any. */
  flitch: v.optional(v.nullable(text), null),
  /** Rails and stiles; null is a slab front, veneered all over. */
  frame: v.optional(v.nullable(frame), null),
  /** Parts of the front's face where a defect does not matter (under hinges, handles or a plinth), from its upper left corner. */
  covered: v.optional(v.array(polygon<'panel'>()), []),
  grade: v.optional(v.nullable(v.picklist(GRADES)), null),
});
export type Door = v.InferOutput<typeof doorSchema>;
