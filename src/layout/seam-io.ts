import * as v from 'valibot';
import { givenDefect, shapes } from '../job';
import type { FacePicture } from '../raster';

/** What `seam` takes and gives (COMMANDS). mm on each slab's own rectified face, y down; the first slab is the front. */

const { finite, positive, notNegative, polygon, segment, id } = shapes;

const slab = v.strictObject({
  id,
  image: v.pipe(
    v.string('must be the path of a picture'),
    v.minLength(1),
    v.description('A rectified face; the centre of its first pixel lies at (mmPerPx/2, mmPerPx/2)'),
  ),
  mmPerPx: positive,
  outline: polygon<'face'>(),
  defects: v.optional(v.array(givenDefect<'face'>()), []),
});

export const seamInput = v.strictObject({
  slabs: v.strictTuple([slab, slab], 'must be two slabs, the front one first'),
  top: v.pipe(
    v.strictObject({
      length: positive,
      depth: v.pipe(v.strictTuple([positive, positive]), v.description('Least and most, of the whole top')),
      front: v.picklist(['live', 'straight']),
    }),
    v.forward(
      v.check(({ depth }) => depth[0] <= depth[1], 'the least depth must not be more than the most'),
      ['depth'],
    ),
  ),
  kerf: notNegative,
  leastStrip: v.pipe(positive, v.description('Least width of either strip')),
  slide: v.pipe(notNegative, v.description('Limit of the slide along the joint, plus and minus')),
  angle: v.pipe(
    notNegative,
    v.maxValue(45, 'must not be over 45'),
    v.description("Limit of each joint's angle against x, plus and minus, degrees"),
  ),
  ends: v.pipe(v.picklist(['same', 'either']), v.description('either: the second slab may be turned end for end')),
});
type SeamInput = v.InferOutput<typeof seamInput>;

/** A slab of a seam with its picture decoded. */
export type SeamSlab = Omit<SeamInput['slabs'][number], 'image' | 'mmPerPx'> & { readonly picture: FacePicture };

/** The question of `seam` with its pictures decoded. */
export type SeamQuestion = Omit<SeamInput, 'slabs'> & { readonly slabs: readonly [SeamSlab, SeamSlab] };

const joint = v.strictObject({
  slab: id,
  line: segment<'face'>(),
  keeps: v.pipe(
    v.picklist(['left', 'right']),
    v.description(
      "left: the side where the cross product of the line's direction and the way to the kept wood is positive",
    ),
  ),
});

export const seamOutput = v.strictObject({
  seams: v.pipe(
    v.array(
      v.strictObject({
        blend: v.pipe(
          finite,
          v.minValue(0),
          v.maxValue(1),
          v.description(
            'Share of imaginary kerfs in the uncut wood of both slabs that match no better, in the mean over stretches of about 200 mm',
          ),
        ),
        lines: v.pipe(finite, v.description('Two-sided line match, 1 for uncut wood')),
        cost: v.pipe(finite, v.description('What the search minimises')),
        joints: v.strictTuple([joint, joint]),
        slide: v.pipe(finite, v.description("How far the second slab moves along the first one's line")),
        flipped: v.pipe(v.boolean(), v.description('Whether the second slab is turned end for end')),
      }),
    ),
    v.description('Best first'),
  ),
  evaluated: v.pipe(v.number(), v.integer(), v.minValue(0), v.description('Full evaluations')),
});
export type SeamOutput = v.InferOutput<typeof seamOutput>;
