import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020';
import { expect } from 'vitest';
import type { Io } from '../../src/cli/io';
import { run } from '../../src/cli/run';

/** What one command line did. */
export interface Called {
  readonly status: number;
  readonly out: string;
  readonly told: readonly string[];
}

/** A folder of its own for a test's files, gone after it. */
export class Bench {
  private constructor(readonly folder: string) {}

  static async make(): Promise<Bench> {
    return new Bench(await mkdtemp(join(tmpdir(), 'waneline-cli-')));
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await rm(this.folder, { recursive: true });
  }

  /** Writes a file: text and bytes as they are, anything else as JSON. */
  async put(name: string, content: unknown): Promise<string> {
    const isRaw = typeof content === 'string' || content instanceof Uint8Array;
    await writeFile(join(this.folder, name), isRaw ? content : JSON.stringify(content));
    return name;
  }

  /** Every file in the folder, hidden ones too. */
  async files(): Promise<string[]> {
    return (await readdir(this.folder, { recursive: true })).sort();
  }

  /** Carries out one command line in the folder, as the process would, with `input` on standard input. */
  async call(argv: readonly string[], input: string | null = null): Promise<Called> {
    const told: string[] = [];
    let out = '';
    const io: Io = {
      folder: this.folder,
      input: async () => (input === null ? null : new TextEncoder().encode(input)),
      print: (text) => {
        out += text;
      },
      tell: (line) => {
        told.push(line);
      },
      stopped: () => false,
    };
    const status = await run(argv, io);
    return { status, out, told };
  }
}

/** The error object of a call whose input is at fault: the last line of standard error. */
export function errorOf({ told }: Called): { message: string; where: string; mend: string } {
  return JSON.parse(told.at(-1) as string).error;
}

/** A call that is at fault: status 2, nothing printed, nothing written, and the error object as the last line. */
export async function faultOf(bench: Bench, argv: readonly string[], input: string | null = null) {
  const before = await bench.files();
  const called = await bench.call(argv, input);
  expect([called.status, called.out], `${argv.join(' ')} ${called.told}`).toEqual([2, '']);
  expect(await bench.files()).toEqual(before);
  const error = errorOf(called);
  expect(Object.keys(error)).toEqual(['message', 'where', 'mend']);
  for (const text of Object.values(error)) expect(text).not.toBe('');
  return error;
}

/** What an independent validator finds wrong with an output against the schema that the command line prints for it. */
export function faultsAgainst(schema: unknown, output: unknown): unknown {
  const validate = new Ajv2020({ strict: false, validateFormats: false }).compile(schema as object);
  return validate(output) ? [] : validate.errors;
}
