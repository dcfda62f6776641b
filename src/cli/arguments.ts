import { parseArgs } from 'node:util';
import { InputProblem } from '../units';

/** One `--name` of a command. */
export interface Option {
  /** What its value is called in the help, such as `MM`; a switch without a value has none. */
  readonly value?: string;
  readonly about: string;
}

/** What a command takes. */
export interface Takes {
  readonly options: Readonly<Record<string, Option>>;
  /** Names of the arguments without `--`; those with `?` may be left out. */
  readonly operands: readonly string[];
}

/** The arguments of one call, checked against what its command takes. */
export class Arguments {
  constructor(
    private readonly values: ReadonlyMap<string, string>,
    /** Arguments without `--`, in their order. */
    readonly operands: readonly string[],
    private readonly help: string,
  ) {}

  /** Whether a switch is given. */
  has(name: string): boolean {
    return this.values.has(name);
  }

  text(name: string): string | undefined {
    return this.values.get(name);
  }

  /** @throws InputProblem when it is not given */
  needed(name: string): string {
    const value = this.values.get(name);
    if (value === undefined)
      throw new InputProblem(`--${name} is missing.`, `--${name}`, `Add it; ${this.help} tells how.`);
    return value;
  }

  /** @throws InputProblem when it is no finite number, or below `least` */
  number(name: string, least = Number.NEGATIVE_INFINITY): number | undefined {
    const text = this.values.get(name);
    if (text === undefined) return undefined;
    const value = text.trim() === '' ? Number.NaN : Number(text);
    if (!Number.isFinite(value))
      throw new InputProblem(
        `--${name} should be a number but is "${text}".`,
        `--${name}`,
        'Write digits with a decimal point.',
      );
    if (value < least)
      throw new InputProblem(
        `--${name} should be at least ${least} but is ${text}.`,
        `--${name}`,
        'Give a larger number.',
      );
    return value;
  }

  /** @throws InputProblem when it is missing or no finite number */
  neededNumber(name: string): number {
    this.needed(name);
    return this.number(name) as number;
  }

  /** @throws InputProblem when it is no whole number of at least `least` */
  whole(name: string, least: number): number | undefined {
    const value = this.number(name, least);
    if (value !== undefined && !Number.isSafeInteger(value))
      throw new InputProblem(
        `--${name} should be a whole number but is ${value}.`,
        `--${name}`,
        'Leave the decimals out.',
      );
    return value;
  }
}

/**
 * Reads what stands behind a command's name.
 * @param help how to ask for the command's help
 * @throws InputProblem for an option that the command does not have, one given twice, a value missing or too many operands
 */
export function readArguments(command: Takes, argv: readonly string[], help: string): Arguments {
  const known = Object.entries(command.options);
  const { tokens } = parseArgs({
    args: [...argv],
    options: Object.fromEntries(
      known.map(([name, { value }]) => [name, { type: value ? 'string' : 'boolean' }] as const),
    ),
    strict: false,
    tokens: true,
  });
  const values = new Map<string, string>();
  const operands: string[] = [];
  for (const token of tokens) {
    if (token.kind === 'positional') operands.push(token.value);
    if (token.kind !== 'option') continue;
    const { rawName, name, value } = token;
    const problem = (message: string, mend: string) => new InputProblem(message, rawName, mend);
    const option = rawName.startsWith('--') ? known.find(([own]) => own === name)?.[1] : undefined;
    if (!option) throw problem(`There is no option ${rawName} here.`, `Take it out, or see ${help}.`);
    if (values.has(name)) throw problem(`${rawName} is given twice.`, 'Give it once.');
    if (option.value ? !value || value.startsWith('--') : value !== undefined)
      throw option.value
        ? problem(`${rawName} needs a value (${option.value}).`, 'Write it behind the option.')
        : problem(`${rawName} takes no value.`, 'Leave the value out.');
    values.set(name, value ?? '');
  }
  const least = command.operands.filter((name) => !name.endsWith('?')).length;
  if (operands.length < least)
    throw new InputProblem(`${command.operands[operands.length]} is missing.`, '', `Add it; ${help} tells how.`);
  const extra = operands[command.operands.length];
  if (extra !== undefined)
    throw new InputProblem(`"${extra}" is one argument too many.`, extra, `Take it out, or see ${help}.`);
  return new Arguments(values, operands, help);
}
