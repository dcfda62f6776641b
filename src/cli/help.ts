import type { Command, CommandGroup } from './command';
import { COMMANDS } from './commands';

/** How a person starts us. */
const START = 'npm run -s waneline --';

const columns = (rows: readonly (readonly [string, string])[]): string => {
  const width = Math.max(...rows.map(([left]) => left.length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`.trimEnd()).join('\n');
};

/** What `--help` prints without a command. */
export async function generalHelp(): Promise<string> {
  const rows = await Promise.all(
    Object.entries(COMMANDS).map(async ([name, load]) => [name, (await load()).summary] as const),
  );
  return `Waneline plans how live-edge slabs are cut. Every computation of the app is also a command.

Usage: ${START} COMMAND ...

${columns(rows)}

${START} COMMAND --help   tells more, with an example
${START} schema COMMAND   prints the JSON Schema of what a command gives and takes

Lengths are in mm, areas in mm2, volumes in litres, angles in degrees from +x to +y. The exit status is 0 when done, 2 when the
input is at fault (the last line of standard error is then {"error":{"message","where","mend"}} and nothing is written), 1 for a
fault of ours.
`;
}

/** What `COMMAND --help` prints. */
export function commandHelp(name: string, command: Command): string {
  const { usage, about, example, exampleInput, options } = command;
  const rows = [...Object.entries(options), ['help', { about: 'Print this.' }] as const].map(
    ([option, { value, about: what }]: readonly [string, { value?: string; about: string }]) =>
      [value ? `--${option} ${value}` : `--${option}`, what] as const,
  );
  const input = exampleInput ? `${exampleInput.trim()}\n\n  ` : '';
  return `Usage: ${START} ${name} ${usage}

${about.trim()}

${columns(rows)}

Example:
  ${input.replaceAll('\n', '\n  ').trimEnd()}${input && '\n\n  '}${START} ${name} ${example}
`;
}

/** What `--help` prints for a command that is several. */
export function groupHelp(name: string, { summary, kinds }: CommandGroup): string {
  return `${summary}

${Object.entries(kinds)
  .map(([kind, { usage, summary: what }]) => `  ${START} ${name} ${kind} ${usage}\n      ${what}`)
  .join('\n')}

Example:
  ${START} ${name} ${Object.entries(kinds).map(([kind, { example }]) => `${kind} ${example}`)[0]}
`;
}
