import * as v from 'valibot';
import type { Frame } from '../geometry';
import { referenceDraftSchema } from './reference-draft';
import { boardResaw } from './resaw';
import { calibrationSchema, scaleSchema } from './scale';
import {
  byId,
  crackLine,
  file,
  finite,
  id,
  line,
  moisture,
  notNegative,
  point,
  polygon,
  positive,
  region,
  text,
} from './shapes';

/** Stock: flitch -> slab -> two faces -> many photos; boards and their leaves (DESIGN 3). */

const photo = v.strictObject({
  id,
  file,
  width: positive,
  height: positive,
  scale: scaleSchema,
  /** What is typed and clicked of the reference and not measured by yet; left out where there is nothing of the kind. */
  draft: v.optional(referenceDraftSchema),
  calibration: v.nullable(calibrationSchema),
  /** A place (px) on the slab that is meant, where the photo shows more than one. */
  slabAt: v.optional(point<'photo'>()),
});
export type Photo = v.InferOutput<typeof photo>;

export const DEFECT_KINDS = ['knot', 'crack', 'void', 'bark inclusion', 'shake', 'stain', 'rot', 'pith'] as const;

const PERMITS = ['avoid', 'keyed', 'allow'] as const;

/** A defect as a command takes it: as `trace` gives it, or as the job keeps it. */
export const givenDefect = <F extends Frame>() =>
  v.strictObject({
    id: v.optional(id),
    kind: v.picklist(DEFECT_KINDS),
    line: v.optional(crackLine),
    polygon: v.optional(polygon<F>()),
    through: v.optional(v.boolean()),
    confidence: v.optional(v.pipe(finite, v.minValue(0), v.maxValue(1))),
    permit: v.optional(v.picklist(PERMITS)),
  });

/**
 * A defect as it shows on this face, in that face's frame: a `line` for a crack or shake, a `polygon` for the others.
 * `permit` is what the maker allows: keep off it, let it show where a key can hold it, or do not care.
 */
const defect = v.strictObject({
  id,
  kind: v.picklist(DEFECT_KINDS),
  line: v.optional(crackLine),
  polygon: v.optional(polygon<'face'>()),
  through: v.optional(v.boolean()),
  confidence: v.optional(v.pipe(finite, v.minValue(0), v.maxValue(1))),
  permit: v.picklist(PERMITS),
});
export type Defect = v.InferOutput<typeof defect>;

/** The rectified picture of a face: the centre of its first pixel lies at (x0 + mmPerPx/2, y0 + mmPerPx/2). */
const picture = v.strictObject({
  file,
  mmPerPx: positive,
  x0: finite,
  y0: finite,
  width: positive,
  height: positive,
});
export type Picture = v.InferOutput<typeof picture>;

/** A line drawn by hand on the face, for the wood to be told from what is beside it. */
const stroke = v.strictObject({ kind: v.picklist(['wood', 'not wood']), line });

const face = v.strictObject({
  photos: byId(photo),
  /** The wood's edge on this face, bark left out. */
  outline: v.nullable(region<'face'>()),
  bark: v.nullable(polygon<'face'>()),
  /** One standard deviation of the outline, mm. */
  outlineSigma: v.nullable(notNegative),
  /** Stretches of the outline that no photo shows: the slab ran out of the picture there. */
  unseen: v.array(line),
  /** The sapwood within the outline, as far as it can be told. */
  sapwood: v.array(polygon<'face'>()),
  /** Whether the photo told sapwood from heart along every live side; left out where nobody looked. */
  sapwoodTold: v.optional(v.boolean()),
  /** Where the pith runs in or under this face; null where it is not known. */
  pith: v.nullable(line),
  /** Lines drawn by hand along the grain, where the photo's own reading of it is wrong. */
  grainLines: v.array(line),
  /** Lines drawn by hand to say what is wood and what is not, for the outline to be traced by. */
  strokes: v.optional(v.array(stroke), []),
  /** Whether the outline was changed by hand since it was traced. */
  outlineByHand: v.optional(v.boolean(), false),
  picture: v.nullable(picture),
  /** Whether the picture shows the face as it was flattened; left out, as it was sawn. */
  flat: v.optional(v.boolean()),
  /** Where cards or clutter hide the wood in the picture: nothing is measured there. */
  hidden: v.array(polygon<'face'>()),
  defects: byId(defect),
});
export type Face = v.InferOutput<typeof face>;

/**
 * What was read at one spot of the slab, in the top face's frame, z up. `top` and `bottom` are heights of the two faces over
 * one common plane; `thickness` is the calliper's. Any two give the third; null was not read.
 */
const spot = v.strictObject({
  id,
  at: point<'face'>(),
  top: v.nullable(finite),
  bottom: v.nullable(finite),
  thickness: v.nullable(positive),
  /** One standard deviation of each of these readings, mm. */
  sigma: notNegative,
  /** Told to be right when it was questioned. */
  sure: v.optional(v.boolean()),
});
export type Spot = v.InferOutput<typeof spot>;

/** How a slab bows, cups and twists, by straightedge and winding sticks, mm: bow and cup positive with the ends or edges of the upper face high; twist is the lift of the fourth corner, positive where that of most x and y is high. Null was not read. */
const warp = v.strictObject({
  bow: v.nullable(finite),
  cup: v.nullable(finite),
  twist: v.nullable(finite),
  /** One standard deviation of each, mm. */
  sigma: notNegative,
});
export type WarpRead = v.InferOutput<typeof warp>;

/** Whether a slab is still on the rack, with its price asked, is the maker's, or went to somebody else. */
export const OFFERS = ['offered', 'bought', 'sold'] as const;

/** What is taped of a slab that leans on a rack; null was not taped. */
const taped = v.strictObject({
  length: v.nullable(positive),
  /** Of the wood, bark left out: near the left end, at the middle, near the right end. */
  widths: v.strictTuple([v.nullable(positive), v.nullable(positive), v.nullable(positive)]),
  /** At the edges: left end front and back, right end front and back. */
  thicknesses: v.strictTuple([v.nullable(positive), v.nullable(positive), v.nullable(positive), v.nullable(positive)]),
  /** The widest strip along it that is clear of holes and rot; left out or null where none were seen. */
  clear: v.optional(v.nullable(positive)),
});
export type Taped = v.InferOutput<typeof taped>;

/**
 * A length taped on the marked slab, from a mark or point of the map to another or to the wood's edge: 'A', '3', 'J1', 'upper edge'. `ends` are
 * where the plan had both when it was typed: a plan that moves its points since does not make it wrong, only a reading of the marking before.
 */
const tapeReading = v.strictObject({
  from: text,
  to: text,
  ends: v.strictTuple([point<'face'>(), point<'face'>()]),
  mm: positive,
  /** It is of a marking that the plan has left since. */
  old: v.optional(v.boolean()),
});
export type TapeReading = v.InferOutput<typeof tapeReading>;

const slab = v.strictObject({
  id,
  name: text,
  /** Place in sawing order, from 1. */
  place: v.pipe(v.number(), v.integer(), v.minValue(1)),
  thickness: v.nullable(positive),
  moisture: v.nullable(moisture),
  price: v.nullable(notNegative),
  /** Left out, it is in the shop: bought. */
  offer: v.optional(v.picklist(OFFERS)),
  /** Left out where nothing was taped at the yard. */
  taped: v.optional(taped),
  faces: v.strictObject({ top: face, bottom: face }),
  /** Two points of the top face and the same two on the far face, as it is seen turned over. They tie the frames. */
  tie: v.nullable(
    v.strictObject({
      top: v.strictTuple([point<'face'>(), point<'face'>()]),
      bottom: v.strictTuple([point<'farFace'>(), point<'farFace'>()]),
    }),
  ),
  spots: byId(spot),
  /**
   * Whether heights of both faces stand over one plane, or each face was read by itself, upward out of it, the slab turned over in between: then
   * thicknesses tie the two.
   */
  heights: v.optional(v.picklist(['together', 'apart']), 'together'),
  warp: v.optional(v.nullable(warp), null),
  /** The two marks that the cutting map is measured from, A and B; null lets the map propose them. */
  marks: v.nullable(v.strictTuple([point<'face'>(), point<'face'>()])),
  /** The face in whose frame the marks and the tapes are; left out, the top face. */
  marksFace: v.optional(v.picklist(['top', 'bottom'])),
  /** Whether the marks are drilled: before the photo, which shows the holes, or after it, from the map. Left out, they are not. */
  drilled: v.optional(v.picklist(['seen', 'after'])),
  /** What a tape read on the marked slab; left out where nothing was typed. */
  tapes: v.optional(v.array(tapeReading)),
});
export type Slab = v.InferOutput<typeof slab>;
export type FaceName = keyof Slab['faces'];

export const flitchSchema = v.strictObject({
  id,
  name: text,
  species: id,
  moisture: v.nullable(moisture),
  slabs: byId(slab),
});
export type Flitch = v.InferOutput<typeof flitchSchema>;

const leaf = v.strictObject({
  id,
  place: v.pipe(v.number(), v.integer(), v.minValue(1)),
  faces: v.strictObject({ top: face, bottom: face }),
});
export type Leaf = v.InferOutput<typeof leaf>;

export const boardSchema = v.strictObject({
  id,
  name: text,
  species: id,
  length: positive,
  width: positive,
  thickness: positive,
  moisture: v.nullable(moisture),
  price: v.nullable(notNegative),
  /** How it is cupped or bowed; left out or null, nobody looked. */
  warp: v.optional(v.nullable(warp)),
  /** Its outer face and its back before it is sawn, the back as it is seen once the board is turned over about its length; left out, nobody photographed them. */
  faces: v.optional(v.strictObject({ top: face, bottom: face })),
  ...boardResaw,
  leaves: byId(leaf),
});
export type Board = v.InferOutput<typeof boardSchema>;
