import * as v from 'valibot';
import { givenDefect, shapes, shopSchema } from '../job';

/** What `keys` takes and gives (COMMANDS). Everything lies in the top's frame: mm, x along the front, y towards the back. */

const { finite, positive, notNegative, polygon, point, crackLine, id } = shapes;
const share = v.pipe(finite, v.gtValue(0, 'must be more than 0'), v.maxValue(1, 'must not be over 1'));

const said = <S extends v.GenericSchema<number>>(schema: S, value: number, text: string) =>
  v.optional(v.pipe(schema, v.description(text)), value);

const depthRules = v.pipe(
  v.strictObject({
    least: said(
      share,
      1 / 6,
      'Least depth of a pocket as a share of the finished thickness (read: 1/2 in in a 3 in slab)',
    ),
    wanted: said(share, 1 / 3, 'Depth aimed at: the shallowest depth of a size that reaches this share (practice)'),
    most: said(share, 1 / 2, 'Most depth as a share of the finished thickness (practice)'),
    floor: said(notNegative, 6, 'Least wood left under a pocket, or between two pockets back to back, mm (practice)'),
  }),
  v.check(({ least, wanted, most }) => least <= wanted && wanted <= most, 'must have least <= wanted <= most'),
);

/** Sources disagree about keys, and none is a standard: so these are the shop's settings, each with where it comes from. */
const rules = v.pipe(
  v.strictObject({
    tip: said(notNegative, 1, "From a crack's tip to the middle of the first key, in key lengths (practice)"),
    spacing: said(positive, 3, 'Most distance between two keys of a crack, in key lengths (practice: 1.5 to 3)'),
    leastSpacing: said(positive, 1.5, 'Least distance between two keys of a crack, in key lengths (practice)'),
    edge: said(notNegative, 20, "Wood between a key and the top's edge, mm (practice)"),
    end: said(
      notNegative,
      0.5,
      "Wood between a key and the top's ends (least and greatest x), in key lengths (practice)",
    ),
    clear: said(
      notNegative,
      10,
      'Wood between a key and a defect, an area to avoid, another crack or another key, mm (ours)',
    ),
    width: said(positive, 4, 'A key is at least this many times as long as its crack is wide (ours)'),
    depth: v.optional(depthRules, {}),
  }),
  v.check(({ leastSpacing, spacing }) => leastSpacing <= spacing, 'must have leastSpacing <= spacing'),
);

const crack = v.strictObject({
  line: v.pipe(crackLine, v.description('[x, y, width] from tip to tip')),
  faces: v.pipe(v.picklist(['top', 'both']), v.description('Where the crack shows; both gets a key from each face')),
});

export const keysInput = v.strictObject({
  top: v.strictObject({
    outline: polygon<'top'>(),
    thickness: v.pipe(positive, v.description('Finished thickness, mm')),
  }),
  cracks: v.array(crack),
  defects: v.optional(v.array(givenDefect<'top'>()), []),
  avoid: v.optional(v.array(polygon<'top'>()), []),
  sizes: v.pipe(shopSchema.entries.keySizes, v.minLength(1, 'must have at least one key size')),
  rules: v.optional(rules, {}),
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
});
export type KeysInput = v.InferOutput<typeof keysInput>;
export type KeyRules = KeysInput['rules'];

const crackIndex = v.pipe(
  v.number(),
  v.integer(),
  v.minValue(0),
  v.description('Place of the crack in the input, from 0'),
);

const key = v.strictObject({
  crack: crackIndex,
  face: v.pipe(v.picklist(['top', 'bottom']), v.description('The face it is let into; drawn as seen from the top')),
  at: v.pipe(point<'top'>(), v.description("The key's middle, on the crack")),
  angle: v.pipe(finite, v.description("The key's length against x, degrees from +x to +y, over -90 to 90")),
  size: id,
  depth: positive,
  outline: v.pipe(polygon<'top'>(), v.description('The key')),
  pocket: v.pipe(polygon<'top'>(), v.description('What the bit clears; the chisel takes the rest of the outline')),
  template: v.pipe(
    v.nullable(polygon<'top'>()),
    v.description('Opening of the router template; null without a router'),
  ),
});
export type Key = v.InferOutput<typeof key>;

const newtons = v.nullable(v.pipe(finite, v.minValue(0)));

export const keysOutput = v.strictObject({
  keys: v.array(key),
  hold: v.strictObject({
    keys: v.pipe(
      newtons,
      v.description('N that the keys themselves hold across their cracks; null where the handbook has no figure'),
    ),
    wood: v.pipe(
      newtons,
      v.description("N that the top's wood holds behind the keys' ends; null where the handbook has no figure"),
    ),
    ratio: v.pipe(newtons, v.description('keys / wood; null where either is unknown or there is no key')),
    note: v.string(),
  }),
  refused: v.array(v.strictObject({ crack: crackIndex, reason: v.string() })),
});
export type KeysOutput = v.InferOutput<typeof keysOutput>;
