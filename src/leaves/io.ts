import * as v from 'valibot';
import { givenDefect, shapes } from '../job';

/** What `leaves` takes and gives (COMMANDS). Lengths in mm; windows in the frame of the leaf's own picture. */

const { positive, notNegative, finite, polygon, id } = shapes;

/** A leaf's rectified face as in `seam`: the centre of its first pixel at (mmPerPx/2, mmPerPx/2), y down, the grain along x. */
const leafPhoto = v.strictObject({
  id,
  image: v.pipe(v.string('must be the path of a picture'), v.minLength(1)),
  mmPerPx: positive,
  outline: polygon<'face'>(),
  defects: v.optional(v.array(givenDefect<'face'>()), []),
});
export type LeafPhoto = v.InferOutput<typeof leafPhoto>;

const MATCHES = ['book', 'slip', 'reverse slip', 'random'] as const;

const panel = v.strictObject({
  id,
  width: v.pipe(positive, v.description('Across the grain')),
  height: v.pipe(positive, v.description('Along the grain')),
  match: v.picklist(MATCHES),
  joints: v.optional(
    v.pipe(
      v.number('must be a number'),
      v.integer('must be a whole number'),
      v.minValue(0),
      v.maxValue(31),
      v.description('Joints in its face, one fewer than leaves; as few as the leaves allow when left out'),
    ),
  ),
});
export type Panel = v.InferOutput<typeof panel>;

export const leavesInput = v.pipe(
  v.strictObject({
    board: v.strictObject({ length: positive, width: positive, thickness: positive }),
    leaf: v.strictObject({
      thickness: v.pipe(positive, v.description('Finished leaf')),
      sanding: v.pipe(notNegative, v.description('Taken off both of its faces together')),
    }),
    kerf: notNegative,
    dressing: v.pipe(notNegative, v.description('Planed off the board between one cut and the next')),
    faceAllowance: v.pipe(notNegative, v.description('Planed off the outer face once, before the first cut')),
    lastPiece: v.pipe(notNegative, v.description('Least that must be left to hold after the last cut')),
    leafPhotos: v.optional(v.pipe(v.array(leafPhoto), v.description('One per leaf, in sawing order'))),
    panels: v.optional(v.array(panel)),
  }),
  v.forward(
    v.check(({ leafPhotos, panels }) => panels === undefined || leafPhotos !== undefined, 'must come with leafPhotos'),
    ['panels'],
  ),
);
export type LeavesInput = v.InferOutput<typeof leavesInput>;
export type LeafCountInput = LeavesInput;

const usedLeaf = v.strictObject({
  leaf: id,
  flip: v.pipe(
    v.picklist(['none', 'over', 'end']),
    v.description('over: turned over like a page about the joint; end: turned end for end, same face up'),
  ),
  window: v.pipe(polygon<'face'>(), v.description("What is cut out of the leaf, in its own picture's frame")),
});
export type UsedLeaf = v.InferOutput<typeof usedLeaf>;

const panelOutput = v.strictObject({
  id,
  leaves: v.pipe(v.array(usedLeaf), v.description('From left to right')),
  blend: v.pipe(
    v.nullable(v.pipe(finite, v.minValue(0), v.maxValue(1))),
    v.description(
      'The least blend of its joints; null for a panel without a joint or without enough sound wood to tell',
    ),
  ),
  backer: v.pipe(v.array(usedLeaf), v.description('Leaves of its back, left to right; none when no leaf was left')),
});
export type PanelOutput = v.InferOutput<typeof panelOutput>;

export const leavesOutput = v.strictObject({
  leaves: v.pipe(v.number(), v.integer(), v.minValue(0)),
  remnant: notNegative,
  cuts: v.pipe(v.array(finite), v.description('Where each cut begins, from the outer face as it was')),
  panels: v.optional(v.array(panelOutput)),
  short: v.optional(
    v.pipe(
      v.array(v.strictObject({ id, reason: v.string() })),
      v.description('Panels that cannot be had, or not with a back, and why'),
    ),
  ),
});
export type LeavesOutput = v.InferOutput<typeof leavesOutput>;
