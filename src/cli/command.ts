import type { GenericSchema } from 'valibot';
import type { Arguments, Takes } from './arguments';
import type { Io } from './io';

/** The shapes of a command's input and output, for `schema` and for tests. */
export interface Shapes {
  readonly output: GenericSchema;
  /** What it reads, by name; `input` is its JSON input. */
  readonly inputs: Readonly<Record<string, GenericSchema>>;
  /** Keys of the output whose numbers keep nine decimals, since three would lose what they say; why, in words. */
  readonly exact?: { readonly keys: readonly string[]; readonly because: string } | undefined;
}

/** One command of the command line. */
export interface Command extends Takes {
  readonly summary: string;
  /** Arguments as they are written, behind the command's name. */
  readonly usage: string;
  readonly about: string;
  /** A whole line that works, behind the command's name, and the input file that it reads, if it needs one. */
  readonly example: string;
  readonly exampleInput?: string;
  shapes(): Promise<Shapes>;
  /** @throws InputProblem when the input is at fault; nothing is then written */
  run(args: Arguments, io: Io): Promise<void>;
}

/** A command that is several: `wood emc`, `wood weight`. */
export interface CommandGroup {
  readonly summary: string;
  readonly kinds: Readonly<Record<string, Command>>;
}

/** Every command by its name, read only when it is asked for: most need a part of the house, and OpenCV takes a second to start. */
export type Commands = Readonly<Record<string, () => Promise<Command | CommandGroup>>>;
