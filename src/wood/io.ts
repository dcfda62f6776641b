import * as v from 'valibot';

/** What the commands of this room take and give (COMMANDS `wood`): JSON Schema is printed from these. */

const finite = v.pipe(v.number('must be a number'), v.finite('must be a finite number'));
const moisture = v.pipe(
  finite,
  v.minValue(0, 'must not be less than 0'),
  v.maxValue(300, 'must not be over 300'),
  v.description('Moisture content, % of the dry mass'),
);
const mm = v.pipe(finite, v.gtValue(0, 'must be more than 0'), v.description('mm'));
const speciesName = v.pipe(
  v.string('must be a name'),
  v.description('Id, trade name or Latin name; see `wood species`'),
);
const described = (text: string) => v.pipe(finite, v.description(text));

const cell = v.strictObject({
  value: finite,
  checked: v.pipe(
    v.picklist(['read', 'read elsewhere', 'read rounded', 'from memory']),
    v.description('How far the figure was checked against the handbook'),
  ),
});
const maybe = v.nullable(cell);

const speciesRow = v.strictObject({
  id: v.string(),
  name: v.string(),
  latin: v.string(),
  kind: v.picklist(['hardwood', 'softwood', 'imported']),
  shrinkage: v.strictObject({ radial: cell, tangential: cell, volumetric: cell }),
  gravity: v.strictObject({ green: cell, at12: maybe }),
  psi: v.strictObject({
    rupture: cell,
    compressionParallel: cell,
    shearParallel: maybe,
    tensionPerpendicular: maybe,
  }),
  coefficient: v.strictObject({ radial: maybe, tangential: maybe }),
  note: v.nullable(v.string()),
});

/** Input (the command's flags as one object) and output of each kind of question. */
export const woodIo = {
  emc: {
    input: v.strictObject({
      celsius: described('-5 to 100 degrees Celsius'),
      rh: described('Relative humidity, 0 to 100 %'),
    }),
    output: v.strictObject({ emc: described('Equilibrium moisture content, %') }),
  },
  movement: {
    input: v.strictObject({
      species: speciesName,
      width: mm,
      from: moisture,
      to: moisture,
      cut: v.picklist(['flat', 'quarter', 'through']),
    }),
    output: v.strictObject({
      change: described('Change of width in mm, negative when it shrinks'),
      least: described('The lesser bound as a number, least <= change <= most'),
      most: described('The greater bound as a number'),
      source: v.string(),
    }),
  },
  weight: {
    input: v.strictObject({
      species: speciesName,
      mc: moisture,
      volume: v.pipe(finite, v.minValue(0, 'must not be less than 0'), v.description('Litres')),
    }),
    output: v.strictObject({ kg: finite, least: finite, most: finite }),
  },
  species: {
    input: v.strictObject({}),
    output: v.strictObject({ species: v.array(speciesRow), source: v.string() }),
  },
} as const;

/** Where the figures of `wood species` come from. */
export const SPECIES_SOURCE =
  'Wood Handbook, FPL-GTR-190 (2010), Tables 4-3, 4-4, 5-3b, 5-5b, 13-5. Strengths in psi, small clear pieces at 12 % moisture.';
