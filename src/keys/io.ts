import * as v from 'valibot';
import { givenDefect, keyRulesSchema, shapes, shopSchema } from '../job';

/** What `keys` takes and gives (COMMANDS). Everything lies in the top's frame: mm, x along the front, y towards the back. */

const { finite, positive, notNegative, polygon, point, segment, crackLine, id, moisture, text } = shapes;
const crack = v.strictObject({
  line: v.pipe(crackLine, v.description('[x, y, width] from tip to tip')),
  faces: v.pipe(v.picklist(['top', 'both']), v.description('Where the crack shows; both gets a key from each face')),
  depth: v.optional(
    v.pipe(
      v.picklist(['surface', 'through', 'unknown']),
      v.description('How deep it goes; left out, through where it shows on both faces and else unknown'),
    ),
  ),
  far: v.optional(
    v.pipe(
      crackLine,
      v.description(
        'Its line on the far face as seen from the top, where that was photographed: keys from below follow it',
      ),
    ),
  ),
  grain: v.optional(
    v.pipe(finite, v.description("The slab's grain about the crack against x, degrees; left out, the top's")),
  ),
  kind: v.optional(
    v.pipe(v.picklist(['crack', 'seam']), v.description('A seam gets keys as a decoration, which hold nothing')),
    'crack',
  ),
});

const keepOff = v.strictObject({
  kind: v.picklist(['seam', 'cut-out', 'hardware', 'covered']),
  name: v.optional(v.pipe(text, v.description('What it is called in reasons'))),
  polygon: polygon<'top'>(),
});

export const keysInput = v.strictObject({
  top: v.strictObject({
    outline: polygon<'top'>(),
    thickness: v.pipe(positive, v.description('Finished thickness, mm')),
    grain: v.optional(
      v.pipe(finite, v.description("The wood's grain against x, degrees; left out, its rule is not tried")),
    ),
  }),
  cracks: v.array(crack),
  defects: v.optional(v.array(givenDefect<'top'>()), []),
  avoid: v.optional(v.array(polygon<'top'>()), []),
  keepOff: v.optional(v.pipe(v.array(keepOff), v.description('What keys keep clear of by a rule of its own')), []),
  mirror: v.optional(
    v.pipe(segment<'top'>(), v.description('The seam of a book-matched top, over which the rhythm "mirrored" mirrors')),
  ),
  moisture: v.optional(
    v.pipe(
      v.strictObject({
        now: moisture,
        site: moisture,
        swing: v.optional(v.pipe(notNegative, v.maxValue(20)), 0),
      }),
      v.description(
        'Moisture of the wood now, where it will stand, and how far the latter swings to either side over a year, %',
      ),
    ),
  ),
  sizes: v.pipe(shopSchema.entries.keySizes, v.minLength(1, 'must have at least one key size')),
  rules: v.optional(keyRulesSchema, {}),
  router: v.optional(
    v.pipe(
      shopSchema.entries.router,
      v.check(({ bushing, bit }) => bushing > bit, 'the bushing must be wider than the bit'),
    ),
  ),
  species: v.pipe(v.string('must be a name'), v.description('Species of the top')),
  keySpecies: v.optional(
    v.pipe(v.string('must be a name'), v.description('Species of the keys; the same when left out')),
  ),
  units: v.optional(
    v.pipe(v.picklist(['mm', 'in']), v.description('Of the lengths in sentences; every figure is in mm')),
    'mm',
  ),
});
export type KeysInput = v.InferOutput<typeof keysInput>;

const count = v.pipe(v.number(), v.integer(), v.minValue(0));
const crackIndex = v.pipe(count, v.description('Place of the crack in the input, from 0'));

const key = v.strictObject({
  crack: crackIndex,
  face: v.pipe(v.picklist(['top', 'bottom']), v.description('The face it is let into; drawn as seen from the top')),
  at: v.pipe(point<'top'>(), v.description("The key's middle, on the crack")),
  angle: v.pipe(finite, v.description("The key's length against x, degrees from +x to +y, over -90 to 90")),
  size: id,
  depth: positive,
  part: v.pipe(count, v.description('Which part of the crack inside the top, from 0')),
  along: v.pipe(notNegative, v.description("From the first tip of that part to the key's middle, along the crack")),
  under: v.pipe(finite, v.description('Wood left under its pocket, or between it and one back to back')),
  outline: v.pipe(polygon<'top'>(), v.description('The key')),
  pocket: v.pipe(
    polygon<'top'>(),
    v.description(
      'What the bit clears; the chisel takes the rest of the outline. Its waist is drawn sharp: a bushing leaves it some tenths of a millimetre fuller',
    ),
  ),
  template: v.pipe(
    v.nullable(polygon<'top'>()),
    v.description('Opening of the router template; null without a router'),
  ),
});
export type Key = v.InferOutput<typeof key>;

const newtons = v.nullable(v.pipe(finite, v.minValue(0)));

/** What holds in a layout, or along one crack of it. */
const hold = v.strictObject({
  keys: v.pipe(
    newtons,
    v.description('N that the keys themselves hold across their cracks; null where the handbook has no figure'),
  ),
  wood: v.pipe(
    newtons,
    v.description("N that the top's wood holds behind the keys' ends; null where the handbook has no figure"),
  ),
  ratio: v.pipe(newtons, v.description('keys / wood; null where either is unknown or there is no key')),
  bearing: v.pipe(
    newtons,
    v.description("N at which the keys' flanks crush into the pockets or are crushed; null where not known"),
  ),
  low: v.pipe(
    v.strictObject({ keys: newtons, wood: newtons }),
    v.description('keys and wood where every piece is the weakest of twenty'),
  ),
  unbroken: v.pipe(newtons, v.description('N that whole wood would hold across the same cracks')),
  share: v.pipe(newtons, v.description('The lesser of keys and wood / unbroken')),
  weakest: v.pipe(
    v.nullable(v.picklist(['neck', 'wings', 'bearing', 'wood'])),
    v.description('What gives way first; null where not known'),
  ),
});

export type Hold = v.InferOutput<typeof hold>;

const tip = v.strictObject({
  at: point<'top'>(),
  open: v.pipe(v.boolean(), v.description('Whether the crack runs out of the top here, and so has no tip')),
});

const crackFacts = v.strictObject({
  crack: crackIndex,
  parts: v.pipe(
    v.array(
      v.strictObject({
        face: v.picklist(['top', 'bottom']),
        length: positive,
        widest: notNegative,
        tips: v.strictTuple([tip, tip]),
      }),
    ),
    v.description('As far as it lies inside the top'),
  ),
  depth: v.picklist(['surface', 'through', 'unknown']),
  opens: v.pipe(
    v.nullable(v.strictObject({ least: finite, most: finite, source: v.string() })),
    v.description('mm that it would open without keys on the way to the site; negative closes; null where not known'),
  ),
  hold,
  notes: v.array(v.string()),
});
export type CrackFacts = v.InferOutput<typeof crackFacts>;

export const keysOutput = v.strictObject({
  keys: v.array(key),
  hold: v.strictObject({ ...hold.entries, note: v.string() }),
  refused: v.array(
    v.strictObject({
      crack: crackIndex,
      reason: v.string(),
      face: v.optional(v.picklist(['top', 'bottom'])),
      at: v.optional(v.pipe(point<'top'>(), v.description('Where a key is missed'))),
      nearest: v.optional(v.pipe(v.nullable(point<'top'>()), v.description('The nearest place that is clear'))),
    }),
  ),
  cracks: v.array(crackFacts),
  notes: v.pipe(v.array(v.string()), v.description('What is to be known before a pocket is cut')),
});
export type KeysOutput = v.InferOutput<typeof keysOutput>;
