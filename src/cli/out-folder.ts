import { mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { InputProblem } from '../units';
import { type Io, pathOf } from './io';
import { fileProblem } from './json-file';
import type { OutFile } from './output';

/** The file of a set that lists the others. */
const LIST = 'plan.json';

/**
 * Refuses a folder that could not be written.
 * @param source folder that the input lies in: it must not be written over
 * @throws InputProblem when it is a file, its parent is not there, or it is the input's own
 */
export async function checkOutFolder(io: Io, name: string, source: string | null): Promise<void> {
  const path = pathOf(io, name);
  const isFolder = async (at: string) => (await stat(at).catch(() => null))?.isDirectory() ?? null;
  if ((await isFolder(dirname(path))) !== true)
    throw new InputProblem(
      `The folder that "${name}" would lie in is not there.`,
      name,
      'Make that folder first, or name another.',
    );
  if ((await isFolder(path)) === false) throw new InputProblem(`"${name}" is a file.`, name, 'Name a folder.');
  if (path === source)
    throw new InputProblem(`"${name}" is the job's own folder.`, name, 'Name another folder for the plan.');
}

/** Names that an earlier run listed in its folder. A list that a stranger wrote may name only plain files in it. */
async function listedBefore(folder: string): Promise<string[]> {
  try {
    const { files } = JSON.parse(await readFile(join(folder, LIST), 'utf8')) as { files?: unknown };
    const names = Array.isArray(files) ? files : [];
    return names.filter((name) => typeof name === 'string' && /^[\w-][\w.-]*\.(pdf|svg|dxf|csv|png)$/.test(name));
  } catch {
    return [];
  }
}

/**
 * Writes a folder's files all or none: into a folder beside it, which then takes its place. Where the folder is there already, its other files
 * stay, but those of an earlier run go: nobody shall cut by the sheet of an older plan.
 * @throws InputProblem when the system does not let us
 */
export async function writeFolder(io: Io, name: string, files: readonly OutFile[]): Promise<void> {
  const folder = pathOf(io, name);
  const part = join(dirname(folder), `.${basename(folder)}.${process.pid}.part`);
  try {
    await mkdir(part);
    for (const file of files) await writeFile(join(part, file.name), file.bytes);
    const before = await readdir(folder).catch(() => null);
    if (before === null) return await rename(part, folder);
    const names = files.map((file) => file.name);
    for (const old of await listedBefore(folder))
      if (!names.includes(old)) await rm(join(folder, old), { force: true });
    for (const file of names) await rename(join(part, file), join(folder, file));
  } catch (error) {
    throw fileProblem(error, name);
  } finally {
    await rm(part, { recursive: true, force: true });
  }
}
