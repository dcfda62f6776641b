import * as v from 'valibot';
import { InputProblem } from '../../units';
import type { Command, CommandGroup, Commands, Shapes } from '../command';
import { giveResult, OUT } from '../output';
import { schemaDocument } from '../schema-document';

/** Any of the shapes of a group's kinds: what the group as a whole gives and takes. */
async function anyOf(kinds: CommandGroup['kinds']): Promise<Shapes> {
  const all = await Promise.all(Object.values(kinds).map((kind) => kind.shapes()));
  const exact = all.find((shapes) => shapes.exact)?.exact;
  const input = v.union(all.flatMap(({ inputs }) => Object.values(inputs)));
  return { output: v.union(all.map(({ output }) => output)), inputs: { input }, exact };
}

/** The shapes of a command, or of one kind of it. @throws InputProblem when there is none of that name */
async function shapesOf(commands: Commands, name: string, kind: string | undefined): Promise<Shapes> {
  const load = Object.hasOwn(commands, name) ? commands[name] : undefined;
  if (!load) {
    const mend = `Name one of these: ${Object.keys(commands).join(', ')}.`;
    throw new InputProblem(`There is no command "${name}".`, name, mend);
  }
  const found = await load();
  if (kind === undefined) return 'kinds' in found ? anyOf(found.kinds) : found.shapes();
  const one: Command | undefined = 'kinds' in found && Object.hasOwn(found.kinds, kind) ? found.kinds[kind] : undefined;
  if (one) return one.shapes();
  throw new InputProblem(`There is no kind "${kind}" of ${name}.`, kind, `Leave it out, or see ${name} --help.`);
}

export const schemaOf = (commands: Commands): Command => ({
  summary: 'JSON Schema of what a command gives and takes',
  usage: 'COMMAND [KIND] [--out FILE]',
  about: `
Prints the JSON Schema (2020-12) that every output of the command validates against. Its "$defs" hold the schemas of what the command
reads ("input"; for trace "scale" and "points"), with the defaults of all that may be left out.`,
  example: 'keys',
  options: OUT,
  operands: ['COMMAND', 'KIND?'],
  shapes: async () => ({ output: v.record(v.string(), v.unknown()), inputs: {} }),
  async run(args, io) {
    const [name, kind] = args.operands as [string, string?];
    const document = schemaDocument(args.operands.join(' '), await shapesOf(commands, name, kind));
    await giveResult(args, io, `${JSON.stringify(document, null, 2)}\n`);
  },
});
