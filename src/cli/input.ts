import { dirname } from 'node:path';
import type { GenericSchema, InferOutput } from 'valibot';
import { checked } from '../job';
import { InputProblem } from '../units';
import type { Arguments } from './arguments';
import { type Io, pathOf } from './io';
import { parseJson, readBytes } from './json-file';

/** A JSON input with the folder that paths inside it start from. */
export interface Input<T> {
  readonly value: T;
  readonly folder: string;
}

/**
 * The JSON file that a command's first argument names, checked; standard input where it is `-` or left out.
 * @throws InputProblem when there is none, it is no JSON, or a value in it is at fault (with its path)
 */
export async function readInput<S extends GenericSchema>(
  args: Arguments,
  io: Io,
  schema: S,
): Promise<Input<InferOutput<S>>> {
  const name = args.operands[0] ?? '-';
  if (name !== '-') return readJsonFile(io, name, schema);
  const bytes = await io.input();
  if (!bytes) throw new InputProblem('INPUT.json is missing.', '', 'Name a file, or send the JSON to standard input.');
  return { value: checked(schema, await parseJson(bytes, 'standard input')), folder: io.folder };
}

/** The JSON file of a name, checked. @throws InputProblem as `readInput` */
export async function readJsonFile<S extends GenericSchema>(
  io: Io,
  name: string,
  schema: S,
): Promise<Input<InferOutput<S>>> {
  const path = pathOf(io, name);
  return { value: checked(schema, await parseJson(await readBytes(path, name), name)), folder: dirname(path) };
}
