import packageFacts from '../../package.json';
import { Cancelled } from '../search';
import { InputProblem } from '../units';
import { readArguments } from './arguments';
import type { Command, CommandGroup } from './command';
import { COMMANDS } from './commands';
import { commandHelp, generalHelp, groupHelp } from './help';
import type { Io } from './io';
import { checkTarget, OUT } from './output';

const asksHelp = (words: readonly string[]): boolean => words.some((word) => word === '--help' || word === '-h');

/** The entry of a table under `word`. @throws InputProblem when there is none */
function entryOf<T>(table: Readonly<Record<string, T>>, word: string | undefined, what: string): T {
  const entry = word === undefined || !Object.hasOwn(table, word) ? undefined : table[word];
  if (entry) return entry;
  const names = `Name one of these: ${Object.keys(table).join(', ')}.`;
  throw word === undefined
    ? new InputProblem(`${what[0]?.toUpperCase()}${what.slice(1)} is missing.`, what, names)
    : new InputProblem(`There is no ${what} "${word}".`, word, names);
}

async function obey(argv: readonly string[], io: Io): Promise<void> {
  const [word, ...rest] = argv;
  if (word === '--help' || word === '-h' || word === 'help') return io.print(await generalHelp());
  if (word === '--version') return io.print(`${packageFacts.version}\n`);
  const found: Command | CommandGroup = await entryOf(COMMANDS, word, 'command')();
  if (!('kinds' in found)) return carry(word as string, found, rest, io);
  const [kind, ...behind] = rest;
  if (kind === undefined || kind.startsWith('-')) {
    if (asksHelp(rest)) return io.print(groupHelp(word as string, found));
  }
  return carry(`${word} ${kind}`, entryOf(found.kinds, kind, `kind of ${word}`), behind, io);
}

async function carry(name: string, command: Command, argv: readonly string[], io: Io): Promise<void> {
  if (asksHelp(argv)) return io.print(commandHelp(name, command));
  const args = readArguments(command, argv, `${name} --help`);
  const out = args.text('out');
  if (out !== undefined && command.options.out === OUT.out) await checkTarget(io, out);
  await command.run(args, io);
}

/**
 * Carries out one command line.
 * @param argv what stands behind the program's name
 * @returns the exit status: 0 done, 2 the input is at fault, 1 a fault of ours, 130 stopped by Ctrl+C
 */
export async function run(argv: readonly string[], io: Io): Promise<number> {
  try {
    await obey(argv, io);
    return 0;
  } catch (error) {
    if (error instanceof InputProblem) {
      const { message, mend } = error;
      // A problem of the whole input bears its file's name.
      const where = error.where || argv.find((word, i) => i > 0 && !word.startsWith('-')) || (argv[0] ?? '');
      io.tell(JSON.stringify({ error: { message, where, mend } }));
      return 2;
    }
    if (error instanceof Cancelled) {
      io.tell('Stopped; nothing is written.');
      return 130;
    }
    io.tell(`A fault of Waneline's own, not of your input: ${error instanceof Error ? error.stack : String(error)}`);
    return 1;
  }
}
