import * as v from 'valibot';
import { finite, notNegative, positive } from './shapes';

/**
 * The rules that keys are placed by. Sources disagree about them and no standard is known, so every one is the shop's own setting, and says where its
 * first value comes from: read (in a magazine, a blog), practice (common practice, no source) or ours.
 */
interface Rule {
  /** What it rules, in words. */
  readonly says: string;
  /** What it counts in; `lengths` are lengths of the key. */
  readonly unit: 'lengths' | 'mm' | 'share of thickness' | 'times' | 'degrees';
  /** What a new job has; null where the rule is left out, which `says` explains. */
  readonly standard: number | null;
  readonly source: string;
}

const rule = (says: string, unit: Rule['unit'], standard: number | null, source: string): Rule => ({
  says,
  unit,
  standard,
  source,
});

const clear = (of: string) =>
  rule(`Wood between a key and ${of}; as for defects where left out`, 'mm', null, 'ours; no source gives one');

/** Every rule that is a number, by its name, in the order in which they are read. */
export const KEY_RULES = {
  tip: rule("From a crack's tip to the middle of the first key", 'lengths', 1, 'practice: near, not at, the tip'),
  spacing: rule('Most distance between two keys of a crack', 'lengths', 3, 'practice: 1.5 to 3 lengths'),
  leastSpacing: rule('Least distance between two keys of a crack', 'lengths', 1.5, 'practice: 1.5 to 3 lengths'),
  edge: rule("Wood between a key and the top's edge", 'mm', 20, "practice: 20 mm, or the key's depth"),
  end: rule("Wood between a key and the top's ends (least and greatest x)", 'lengths', 0.5, 'practice: half a length'),
  clear: rule('Wood between a key and a defect or an area to avoid', 'mm', 10, 'ours; no source gives one'),
  knot: clear('a knot'),
  void: clear('a void, bark or rot'),
  crack: clear('another crack'),
  seam: clear('a seam'),
  cutOut: clear('a cut-out'),
  hardware: clear('hardware: a screw, a slot, a bolt'),
  key: clear('another key'),
  width: rule('A key is at least so many times as long as its crack is wide', 'times', 4, 'ours; no source gives one'),
  longest: rule(
    'No key is longer; no limit where left out',
    'mm',
    null,
    'read: under 76 mm (3 in), as the key itself moves (magazine, 2006)',
  ),
  turn: rule(
    "Least angle between a key's grain and the slab's, where that is known",
    'degrees',
    30,
    'ours: along the grain a key ties nothing; read: grain runs across the crack',
  ),
  least: rule(
    'Least depth of a pocket',
    'share of thickness',
    1 / 6,
    'read: 1/2 in in a 3 in slab (blog); 6 to 10 mm (magazine, 2006)',
  ),
  wanted: rule('Depth aimed at: the shallowest of a size that reaches it', 'share of thickness', 1 / 3, 'practice'),
  most: rule('Most depth of a pocket', 'share of thickness', 1 / 2, 'practice: a third to a half'),
  floor: rule('Least wood left under a pocket, or between two back to back', 'mm', 6, 'practice'),
} as const satisfies Readonly<Record<string, Rule>>;
export type KeyRuleName = keyof typeof KEY_RULES;

const describe = ({ says, unit, source }: Rule): string => `${says}, ${unit} (${source})`;

/** A rule that has a first value. */
const set = <S extends v.GenericSchema<number>>(schema: S, name: KeyRuleName) =>
  v.optional(v.pipe(schema, v.description(describe(KEY_RULES[name]))), KEY_RULES[name].standard as number);

/** A rule that may be left out. */
const may = <S extends v.GenericSchema<number>>(schema: S, name: KeyRuleName) =>
  v.optional(v.pipe(schema, v.description(describe(KEY_RULES[name]))));

const share = v.pipe(finite, v.gtValue(0, 'must be more than 0'), v.maxValue(1, 'must not be over 1'));

const depth = v.pipe(
  v.strictObject({
    least: set(share, 'least'),
    wanted: set(share, 'wanted'),
    most: set(share, 'most'),
    floor: set(notNegative, 'floor'),
  }),
  v.check(({ least, wanted, most }) => least <= wanted && wanted <= most, 'must have least <= wanted <= most'),
);

/** How keys stand along a crack: as one likes it. */
export const RHYTHMS = ['even', 'graded', 'odd', 'mirrored'] as const;

export const keyRulesSchema = v.pipe(
  v.strictObject({
    tip: set(notNegative, 'tip'),
    spacing: set(positive, 'spacing'),
    leastSpacing: set(positive, 'leastSpacing'),
    edge: set(notNegative, 'edge'),
    end: set(notNegative, 'end'),
    clear: set(notNegative, 'clear'),
    knot: may(notNegative, 'knot'),
    void: may(notNegative, 'void'),
    crack: may(notNegative, 'crack'),
    seam: may(notNegative, 'seam'),
    cutOut: may(notNegative, 'cutOut'),
    hardware: may(notNegative, 'hardware'),
    key: may(notNegative, 'key'),
    width: set(positive, 'width'),
    longest: may(positive, 'longest'),
    turn: set(v.pipe(notNegative, v.maxValue(90, 'must not be over 90')), 'turn'),
    depth: v.optional(depth, {}),
    rhythm: v.optional(
      v.pipe(
        v.picklist(RHYTHMS),
        v.description(
          'even; graded: closer where the crack is wider; odd: an odd number; mirrored: alike on two cracks that mirror each other over the seam of a book-matched top',
        ),
      ),
      'even',
    ),
    mixed: v.optional(
      v.pipe(
        v.boolean(),
        v.description('Whether one crack may have keys of different sizes, which grow with its width there'),
      ),
      false,
    ),
  }),
  v.check(({ leastSpacing, spacing }) => leastSpacing <= spacing, 'must have leastSpacing <= spacing'),
);
export type KeyRules = v.InferOutput<typeof keyRulesSchema>;
