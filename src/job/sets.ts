import * as v from 'valibot';
import { finite, id, notNegative, point, polygon, segment, text } from './shapes';

/**
 * Doors laid out on their leaves, as the document keeps it: ids and polygons, no pixels. A front is a door's copy, `door-1`, `door-2` ...
 * (`frontsOf` in the leaves room names them).
 */

const share = v.pipe(finite, v.minValue(0), v.maxValue(1));
const index = v.pipe(v.number(), v.integer(), v.minValue(0));

/** A piece of a leaf in its place. */
const cell = v.strictObject({
  board: id,
  leaf: id,
  /** The face that shows: `top` is the one towards the board's outer face, from which sawing began. */
  face: v.picklist(['top', 'bottom']),
  /**
   * How the leaf lies against the first of the match: `over`, turned over like a page; `end`, turned end for end, same face up;
   * `over and end`, both.
   */
  flip: v.picklist(['none', 'over', 'end', 'over and end']),
  /** Affine map leaf -> panel: x' = a x + c y + e, y' = b x + d y + f. It mirrors where the leaf's far face shows. */
  toPanel: v.strictTuple([finite, finite, finite, finite, finite, finite]),
  /** What is cut out of the leaf, in the frame of its top face, the grain along x. */
  window: polygon<'face'>(),
  /** The same piece on the pressed panel. */
  cell: polygon<'panel'>(),
});
export type Cell = v.InferOutput<typeof cell>;

/** A joint between two cells of one front; `line` on the panel. `side` runs along the grain, `end` across it, `slant` at an angle. */
const cellJoint = v.strictObject({
  cells: v.strictTuple([index, index]),
  kind: v.picklist(['side', 'end', 'slant']),
  line: segment<'panel'>(),
  /** Share of imaginary kerfs in uncut wood that match no better (DESIGN 5.3); null where there is no picture to tell. */
  blend: v.nullable(share),
});
export type CellJoint = v.InferOutput<typeof cellJoint>;

/** Where grain is to run on from one front to the next, over the gap between them. */
const setJoint = v.strictObject({
  from: v.strictObject({ front: id, cell: index }),
  to: v.strictObject({ front: id, cell: index }),
  kind: v.picklist(['side', 'end']),
  /** Whether the two mirror each other about the gap's middle, or the wood goes on. */
  mirrored: v.boolean(),
  /** Wood that is lost to the figure between the two, mm. */
  lost: notNegative,
  /** The trimmed edges that face each other over the gap, each on its own panel, from end to end; sets laid out before there was such a thing have none. */
  lines: v.optional(v.strictTuple([segment<'panel'>(), segment<'panel'>()])),
  /** As of a joint in a front, the lost wood told from none of its own; null where no picture tells. */
  blend: v.nullable(share),
});
export type SetJoint = v.InferOutput<typeof setJoint>;

const size = v.strictObject({ width: notNegative, height: notNegative });

const setFront = v.strictObject({
  /** The door and which copy of it, from 1. */
  door: id,
  copy: v.pipe(v.number(), v.integer(), v.minValue(1)),
  /** Place in the sequence of the set, from 1: left to right, top to bottom. */
  sequence: v.pipe(v.number(), v.integer(), v.minValue(1)),
  /** Upper left corner of the finished front in the elevation. */
  at: point<'elevation'>(),
  finished: size,
  /** The veneered panel as it is pressed, trim all round; the frame `panel` begins at its upper left corner. */
  pressed: size,
  /** The panel as it is trimmed, on the pressed one, and what of it is seen between rails and stiles (the whole of it without a frame). */
  trimmed: polygon<'panel'>(),
  sight: polygon<'panel'>(),
  cells: v.array(cell),
  joints: v.array(cellJoint),
  /** Leaves of its back as seen from behind, left to right; empty where it has none. */
  backer: v.array(cell),
  /** The least blend of its joints; null without one, or where no picture tells. */
  blend: v.nullable(share),
});
export type SetFront = v.InferOutput<typeof setFront>;

/** Why something cannot be had, as a sentence, with what mends it. */
const setMiss = v.strictObject({
  front: id,
  what: v.picklist(['face', 'back']),
  reason: text,
  mend: text,
});
export type SetMiss = v.InferOutput<typeof setMiss>;

/** A leaf, or a length of one, that is left over. */
const setSpare = v.strictObject({ board: id, leaf: id, length: notNegative, width: notNegative });
export type SetSpare = v.InferOutput<typeof setSpare>;

export const panelSetSchema = v.strictObject({
  id,
  name: text,
  /** By front: door and copy, `door-1`. */
  fronts: v.record(id, setFront),
  joints: v.array(setJoint),
  misses: v.array(setMiss),
  spares: v.array(setSpare),
  /** Fronts whose leaves stay when the rest is laid out again. */
  locked: v.optional(v.array(id), []),
  /** Leaves left out of it, as `board leaf`: a what-if, or a spoilt one. */
  without: v.optional(v.array(text), []),
  /** What its joints come to, 1 a joint for uncut wood; less is better. */
  cost: finite,
  /** How much less the best could still cost, as a share of `cost`, as the solver proves it; 0 is proven best of what was searched. */
  gap: notNegative,
});
export type PanelSet = v.InferOutput<typeof panelSetSchema>;
