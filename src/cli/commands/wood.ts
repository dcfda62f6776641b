import type { GenericSchema, InferOutput } from 'valibot';
import { checked } from '../../job';
import { InputProblem } from '../../units';
import { emcCelsius, movement, SPECIES, SPECIES_SOURCE, weight, woodIo } from '../../wood';
import type { Option } from '../arguments';
import type { Command, CommandGroup, Shapes } from '../command';
import { giveResult, jsonText, OUT } from '../output';

const SPECIES_NAME: Option = {
  value: 'S',
  about: 'Species: its id, trade name or Latin name (`wood species` lists them).',
};

interface Kind<I extends GenericSchema<Record<string, unknown>>> {
  readonly summary: string;
  readonly usage: string;
  readonly about: string;
  readonly example: string;
  /** By the names of the input's keys. */
  readonly options: Readonly<Record<string, Option>>;
  readonly numbers: readonly string[];
  readonly io: { readonly input: I; readonly output: GenericSchema };
  readonly exact?: Shapes['exact'];
  answer(input: InferOutput<I>): unknown;
}

/** A question whose input is its options. */
function question<I extends GenericSchema<Record<string, unknown>>>(kind: Kind<I>): Command {
  return {
    ...kind,
    operands: [],
    options: { ...kind.options, ...OUT },
    shapes: async () => ({ output: kind.io.output, inputs: { input: kind.io.input }, exact: kind.exact }),
    async run(args, io) {
      const names = Object.keys(kind.options);
      const entries = names.map((name) => [
        name,
        kind.numbers.includes(name) ? args.neededNumber(name) : args.needed(name),
      ]);
      try {
        const answer = kind.answer(checked(kind.io.input, Object.fromEntries(entries)));
        await giveResult(args, io, jsonText(answer, kind.exact?.keys));
      } catch (error) {
        const option = error instanceof InputProblem && /^\/(\w+)$/.exec(error.where)?.[1];
        // A path in the input is here the name of an option.
        if (option)
          throw new InputProblem(error.message.replace(`"/${option}"`, `--${option}`), `--${option}`, error.mend);
        throw error;
      }
    },
  };
}

const emc = question({
  summary: 'Moisture content that wood comes to in air of a temperature and humidity',
  usage: '--celsius T --rh H [--out FILE]',
  about: 'The equation of the Wood Handbook (FPL-GTR-190, chapter 4). Real wood departs by about 1 %.',
  example: '--celsius 20 --rh 50',
  options: {
    celsius: { value: 'T', about: 'Temperature, -5 to 100 degrees Celsius.' },
    rh: { value: 'H', about: 'Relative humidity, 0 to 100 %.' },
  },
  numbers: ['celsius', 'rh'],
  io: woodIo.emc,
  answer: ({ celsius, rh }) => ({ emc: emcCelsius(celsius, rh) }),
});

const moving = question({
  summary: 'How a width changes with moisture',
  usage: '--species S --width W --from MC --to MC --cut flat|quarter|through [--out FILE]',
  about:
    'Negative when it shrinks; least and most span radial to tangential, for boards are seldom truly flat- or quarter-sawn.\nThrough is a slab sawn through and through: both ways at once.',
  example: '--species walnut_black --width 640 --from 9 --to 7 --cut through',
  options: {
    species: SPECIES_NAME,
    width: { value: 'W', about: 'mm across the grain, at the first moisture.' },
    from: { value: 'MC', about: 'Moisture content before, %.' },
    to: { value: 'MC', about: 'Moisture content after, %.' },
    cut: { value: 'CUT', about: 'flat, quarter or through.' },
  },
  numbers: ['width', 'from', 'to'],
  io: woodIo.movement,
  answer: movement,
});

const weighing = question({
  summary: 'What a volume of wood weighs',
  usage: '--species S --mc MC --volume LITRES [--out FILE]',
  about: 'The volume is that at this moisture; least and most are 10 % either way, the spread within a species.',
  example: '--species walnut_black --mc 8 --volume 79',
  options: {
    species: SPECIES_NAME,
    mc: { value: 'MC', about: 'Moisture content, %.' },
    volume: { value: 'LITRES', about: 'Volume, litres (1,000,000 mm3).' },
  },
  numbers: ['mc', 'volume'],
  io: woodIo.weight,
  answer: ({ species, mc, volume }) => weight({ species, moisture: mc, litres: volume }),
});

const listing = question({
  summary: 'Every species that is known, with its figures and how far each was checked',
  usage: '[--out FILE]',
  about: 'Shrinkage, specific gravity, strengths and coefficients of dimensional change.',
  example: '',
  options: {},
  numbers: [],
  io: woodIo.species,
  exact: { keys: ['coefficient'], because: 'a coefficient of dimensional change is about 0.002' },
  answer: () => ({ species: SPECIES, source: SPECIES_SOURCE }),
});

export const wood: CommandGroup = {
  summary: 'Moisture, movement, weight and figures of species',
  kinds: { emc, movement: moving, weight: weighing, species: listing },
};
