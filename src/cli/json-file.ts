import { readFile } from 'node:fs/promises';
import { InputProblem } from '../units';

/** Far above any input of ours. */
const MOST_BYTES = 256 * 2 ** 20;

const REASONS: Readonly<Record<string, readonly [message: string, mend: string]>> = {
  ENOENT: ['is not there', 'Check the path.'],
  ENOTDIR: ['is not there', 'Check the path.'],
  EISDIR: ['is a folder, not a file', 'Name a file in it.'],
  EACCES: ['may not be read', 'Change its permissions.'],
  EPERM: ['may not be read', 'Change its permissions.'],
  ENAMETOOLONG: ['has too long a name', 'Check the path.'],
  ENOSPC: ['could not be written: the disk is full', 'Make room on it, or name another place.'],
  EROFS: ['could not be written: the disk is read-only', 'Name another place.'],
  ERR_FS_FILE_TOO_LARGE: ['is too large to be read', 'Give a smaller file.'],
};

/** Why the system would not read or write `name`, as a problem of the input; anything unheard of stays a fault of ours. */
export function fileProblem(error: unknown, name: string): unknown {
  const reason = REASONS[(error as NodeJS.ErrnoException)?.code ?? ''];
  return reason ? new InputProblem(`"${name}" ${reason[0]}.`, name, reason[1]) : error;
}

/**
 * A file's bytes.
 * @param path where it is; @param name what the person called it
 * @throws InputProblem when it cannot be read or is empty
 */
export async function readBytes(path: string, name: string): Promise<Uint8Array<ArrayBuffer>> {
  const bytes = await readFile(path).catch((error) => {
    throw fileProblem(error, name);
  });
  if (bytes.length === 0)
    throw new InputProblem(`"${name}" is empty (0 bytes).`, name, 'Write or copy the file again.');
  return new Uint8Array(bytes.buffer as ArrayBuffer, bytes.byteOffset, bytes.length);
}

/**
 * The value that a JSON text in UTF-8 holds.
 * @throws InputProblem naming line and column of the first fault
 */
export async function parseJson(bytes: Uint8Array, name: string): Promise<unknown> {
  if (bytes.length > MOST_BYTES)
    throw new InputProblem(`"${name}" is too large: over ${MOST_BYTES / 2 ** 20} MB.`, name, 'Give a smaller file.');
  let text: string;
  try {
    // Drops the byte order mark that some editors put in front.
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputProblem(`"${name}" is not JSON: it is not text in UTF-8.`, name, 'Save it as UTF-8 text.');
  }
  if (text.trim() === '') throw new InputProblem(`"${name}" is empty.`, name, 'Write the JSON into it.');
  try {
    return JSON.parse(text);
  } catch {
    throw new InputProblem(`"${name}" is not JSON: ${await faultOf(text)}.`, name, 'Correct it there.');
  }
}

/** What is wrong with a text that is no JSON, and where; the runtime's own message does not always say. */
async function faultOf(text: string): Promise<string> {
  const { parse, printParseErrorCode } = await import('jsonc-parser');
  const faults: import('jsonc-parser').ParseError[] = [];
  parse(text, faults, { disallowComments: true });
  const { error, offset } = faults[0] ?? { error: 1, offset: text.length };
  const before = text.slice(0, offset).split('\n');
  const words = printParseErrorCode(error).replace(/\B[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  return `${words.toLowerCase()} at line ${before.length}, column ${(before.at(-1) as string).length + 1}`;
}
