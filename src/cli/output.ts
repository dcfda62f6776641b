import { realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { InputProblem } from '../units';
import type { Arguments } from './arguments';
import { type Io, pathOf } from './io';
import { fileProblem } from './json-file';
import { rounded } from './rounded';

/** A file to be written, whole or not at all. */
export interface OutFile {
  /** What the person called it. */
  readonly name: string;
  readonly bytes: Uint8Array | string;
}

/**
 * Refuses a target that could not be written, before any work is done for it.
 * @throws InputProblem when its folder is not there or it is a folder itself
 */
export async function checkTarget(io: Io, name: string): Promise<void> {
  const path = pathOf(io, name);
  const folder = await stat(dirname(path)).catch(() => null);
  if (!folder?.isDirectory())
    throw new InputProblem(`The folder of "${name}" is not there.`, name, 'Make the folder first, or name another.');
  if ((await stat(path).catch(() => null))?.isDirectory())
    throw new InputProblem(`"${name}" is a folder.`, name, 'Name a file in it.');
}

/**
 * Writes files all or none: each first beside its place under another name, then all are renamed.
 * @throws InputProblem when the system does not let us
 */
async function writeFiles(io: Io, files: readonly OutFile[]): Promise<void> {
  const written: { readonly from: string; readonly to: string }[] = [];
  try {
    for (const { name, bytes } of files) {
      // Through links to the file itself, so that a link stays one.
      const to = await realpath(pathOf(io, name)).catch(() => pathOf(io, name));
      const found = await stat(to).catch(() => null);
      // A device or pipe cannot be replaced: it takes the bytes as they come.
      const from = found && !found.isFile() ? to : join(dirname(to), `.${basename(to)}.${process.pid}.part`);
      if (from !== to) written.push({ from, to });
      await writeFile(from, bytes).catch((error) => {
        throw fileProblem(error, name);
      });
    }
    for (const { from, to } of written) await rename(from, to);
  } finally {
    for (const { from } of written) await rm(from, { force: true });
  }
}

/** A value as the text that is printed: one line of JSON. */
export const jsonText = (value: unknown, exact: readonly string[] = []): string =>
  `${JSON.stringify(rounded(value, exact))}\n`;

/** Prints a command's result, or writes it to `--out` together with the other files that the command makes. */
export async function giveResult(
  args: Arguments,
  io: Io,
  text: string,
  others: readonly OutFile[] = [],
): Promise<void> {
  const out = args.text('out');
  await writeFiles(io, out === undefined ? others : [...others, { name: out, bytes: text }]);
  if (out === undefined) io.print(text);
}

export const OUT = { out: { value: 'FILE', about: 'Write the result to FILE instead of printing it.' } } as const;
