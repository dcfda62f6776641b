import * as v from 'valibot';
import { flattenOutput } from '../flattening';
import type { Frame, Point } from '../geometry';
import { DEFECT_KINDS, planSchema, SAPWOOD_WISHES, shapes } from '../job';
import { keysOutput } from '../keys';
import { panelSetOutput } from './io-sets';

/** The shape of `plan.json` (COMMANDS, plan). Lengths in mm, areas in mm2, money in the job's currency. */

const { finite, id, notNegative, point, polygon, positive, segment, text, crackLine } = shapes;

const face = v.picklist(['top', 'bottom']);
const whole = v.pipe(v.number(), v.integer(), v.minValue(0));
const share = v.pipe(finite, v.minValue(0), v.maxValue(1));
const nullable = <S extends v.GenericSchema>(schema: S, why: string) => v.pipe(v.nullable(schema), v.description(why));

const slabFace = { flitch: id, slab: id, face };
const range = { least: finite, most: finite };

const strip = v.strictObject({
  ...slabFace,
  toTop: v.pipe(
    v.strictTuple([finite, finite, finite, finite, finite, finite]),
    v.description('[a, b, c, d, e, f]: a point (x, y) of the face lies at (a x + c y + e, b x + d y + f) of the top'),
  ),
  finished: v.pipe(polygon<'face'>(), v.description('The finished piece on its slab')),
  rough: v.pipe(polygon<'face'>(), v.description('The blank as it is rough-cut')),
});

const placement = v.strictObject({
  top: id,
  name: text,
  outline: v.pipe(polygon<'top'>(), v.description('Of the finished top, x along the front, y towards the back')),
  length: positive,
  depth: v.pipe(v.strictTuple([finite, finite]), v.description('Least and most along the length')),
  thickness: v.pipe(positive, v.description('Finished, as wanted')),
  gives: nullable(finite, 'Finished thickness that the thinnest strip still gives; null without readings'),
  strips: v.pipe(v.array(strip), v.description('From the front to the back')),
  cracks: v.array(
    v.strictObject({
      id: v.string(),
      called: v.pipe(text, v.description('By its letter on its slab')),
      line: crackLine,
      through: v.boolean(),
      proposed: v.pipe(v.boolean(), v.description('A photo proposed it and nobody confirmed it')),
      area: v.pipe(notNegative, v.description('Open area on the face, mm2')),
      resin: nullable(notNegative, 'Litres that fill it, with what soaks in; null where its depth is not known'),
    }),
  ),
  sapwood: v.strictObject({
    wish: v.picklist(SAPWOOD_WISHES),
    along: v.pipe(share, v.description('Share of the length over which it shows, as far as it is known')),
    untold: v.pipe(v.array(text), v.description('Slabs on which it is not told from the heart')),
  }),
  scribe: v.pipe(v.array(segment<'top'>()), v.description('Finished edges behind which wood is kept for scribing')),
  holes: v.array(v.strictObject({ name: text, polygon: polygon<'top'>() })),
  hold: keysOutput.entries.hold,
  weight: v.nullable(v.strictObject({ kg: finite, ...range })),
  movement: nullable(
    v.strictObject({ change: finite, ...range, source: v.string() }),
    "Of the depth, from the slabs' moisture to the site's; null where the moisture was not measured",
  ),
});

const jointSide = v.strictObject({ ...slabFace, line: v.nullable(segment<'face'>()) });

const joint = v.strictObject({
  top: id,
  between: v.pipe(v.strictTuple([whole, whole]), v.description('Strips of the top, from 0 at the front')),
  line: v.pipe(segment<'top'>(), v.description('In the top')),
  front: jointSide,
  back: jointSide,
  blend: nullable(share, 'Share of imaginary kerfs in uncut wood that match no better; null without pictures'),
  lines: nullable(finite, 'Two-sided line match, -1 to 1'),
  word: nullable(v.string(), 'What a maker would say of the seam'),
  slide: finite,
  flipped: v.boolean(),
});

const kerf = v.strictObject({
  ...slabFace,
  number: v.pipe(whole, v.description('Order of the cut on its slab')),
  kind: v.picklist(['crosscut', 'rip', 'joint', 'trim']),
  stage: v.pipe(
    v.picklist(['rough', 'fine']),
    v.description('Rough cuts are made on the slab, fine ones on the flat blank'),
  ),
  line: segment<'face'>(),
  kerf: notNegative,
  reason: v.string(),
  blanks: v.array(v.string()),
});

const key = v.strictObject({
  ...keysOutput.entries.keys.item.entries,
  top: id,
  crack: v.pipe(v.string(), v.description('Id of the crack')),
});

const blank = v.strictObject({ size: text, length: positive, width: positive, thickness: positive, count: whole });
const blankPlace = v.strictObject({
  size: text,
  x: v.pipe(notNegative, v.description("From the piece's corner, along the grain")),
  y: notNegative,
  length: positive,
  width: positive,
  layer: v.pipe(whole, v.description('Where a strip is split in its thickness; 0 the upper one')),
});

const { id: _, budget, ...flattening } = flattenOutput.entries.blanks.item.entries;

const blankBudget = v.strictObject({
  blank: v.string(),
  ...slabFace,
  top: id,
  strip: whole,
  roughSize: v.strictTuple([finite, finite]),
  finishedSize: v.strictTuple([finite, finite]),
  wanted: v.pipe(positive, v.description('Finished thickness that the top wants')),
  pith: nullable(v.picklist(['holds', 'may hold']), 'Whether the pith runs in it: cracks and cup are to be expected'),
  budget: nullable(budget, 'Null where the slab has no readings: no reading, no thickness'),
  flattening: v.nullable(v.strictObject(flattening)),
});

const areas = { stock: notNegative, parts: notNegative, kerf: notNegative, offcuts: notNegative, waste: notNegative };

export const planOutput = v.strictObject({
  job: v.strictObject({ id, name: text, date: v.string(), units: v.picklist(['mm', 'in']), currency: v.string() }),
  plan: v.strictObject({
    id,
    name: text,
    version: v.pipe(text, v.description('As every sheet bears it: another one is another plan')),
    waste: share,
  }),
  gap: v.pipe(
    notNegative,
    v.description('How much better the best plan could still be, as the solver proves it; 0: none is better'),
  ),
  placements: v.array(placement),
  joints: v.array(joint),
  kerfs: v.array(kerf),
  keys: v.array(key),
  keyBlanks: v.pipe(
    v.array(
      v.strictObject({
        species: v.string(),
        wanted: v.array(blank),
        cut: v.array(
          v.strictObject({ piece: v.pipe(text, v.description('Of which offcut')), blanks: v.array(blankPlace) }),
        ),
        short: v.pipe(
          v.array(v.strictObject({ size: text, count: whole })),
          v.description('What must come from elsewhere'),
        ),
      }),
    ),
    v.description('Blanks of key wood by species, nested on the offcuts, their grain along x'),
  ),
  refused: v.pipe(
    v.array(v.strictObject({ top: id, crack: v.string(), reason: v.string() })),
    v.description('Cracks without keys'),
  ),
  budgets: v.array(blankBudget),
  offcuts: v.array(
    v.strictObject({
      ...slabFace,
      polygon: polygon<'face'>(),
      rectangle: v.pipe(polygon<'face'>(), v.description('The largest clear piece')),
      area: notNegative,
      pieces: v.pipe(
        v.array(
          v.strictObject({
            polygon: polygon<'face'>(),
            size: v.strictTuple([finite, finite]),
            degrees: finite,
            thickness: nullable(
              v.strictObject({ flat: finite, finished: finite }),
              'Flattened by itself; null without readings',
            ),
          }),
        ),
        v.description('Clear rectangles, along the grain or a few degrees off, a kerf apart, the largest first'),
      ),
    }),
  ),
  areas: v.pipe(
    v.array(v.strictObject({ ...slabFace, ...areas })),
    v.description('Per slab that is cut; stock = parts + kerf + offcuts + waste'),
  ),
  slabs: v.array(
    v.strictObject({
      ...slabFace,
      name: text,
      outline: v.strictObject({ outer: polygon<'face'>(), holes: v.array(polygon<'face'>()) }),
      outlineSigma: notNegative,
      price: v.nullable(notNegative),
      weight: v.nullable(v.strictObject({ kg: finite, ...range })),
      defects: v.array(
        v.looseObject({
          kind: v.picklist(DEFECT_KINDS),
          line: v.optional(crackLine),
          polygon: v.optional(polygon<'face'>()),
        }),
      ),
      marks: nullable(
        v.strictTuple([point<'face'>(), point<'face'>()]),
        'Set by hand; null lets the cutting map propose two',
      ),
    }),
  ),
  boards: v.array(
    v.strictObject({
      id,
      name: text,
      leaves: whole,
      remnant: finite,
      cuts: v.array(finite),
      wanted: whole,
      given: whole,
      warning: v.nullable(v.string()),
    }),
  ),
  sets: v.optional(
    v.pipe(v.array(panelSetOutput), v.description('Doors on their leaves; left out where no set is kept')),
  ),
  misses: v.pipe(
    planSchema.entries.misses,
    v.description('Tops that cannot be had, which limit binds, and by how much'),
  ),
  cost: v.strictObject({
    lines: v.array(v.strictObject({ item: v.string(), quantity: v.string(), price: v.nullable(finite) })),
    total: v.nullable(finite),
    slabs: v.nullable(finite),
    perSquareMetre: v.nullable(finite),
  }),
  order: v.array(v.strictObject({ step: v.string(), detail: v.string(), cautions: v.array(v.string()) })),
  verdict: v.pipe(
    v.strictObject({
      passed: v.boolean(),
      faults: v.array(
        v.strictObject({
          where: v.string(),
          rule: v.pipe(v.string(), v.description('What it breaks, in a word')),
          message: v.string(),
        }),
      ),
    }),
    v.description('Of the independent checker, which shares no code with the search'),
  ),
  files: v.pipe(v.array(v.string()), v.description('Files that were written beside this one')),
});
/** The same for readers only. A point is so already, and keeps its frame. */
type Kept<T> =
  T extends Point<Frame>
    ? T extends unknown[]
      ? Readonly<T>
      : T
    : T extends object
      ? { readonly [K in keyof T]: Kept<T[K]> }
      : T;
export type PlanOutput = Kept<v.InferOutput<typeof planOutput>>;
