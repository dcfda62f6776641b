import { resolve } from 'node:path';
import { buffer } from 'node:stream/consumers';

/** What a command knows of the world outside, so that a test can call it without a process of its own. */
export interface Io {
  /** Folder that paths on the command line start from. */
  readonly folder: string;
  /** Standard input, whole; null when a person sits at it. */
  input(): Promise<Uint8Array | null>;
  /** Writes to standard output. */
  print(text: string): void;
  /** Writes one line to standard error. */
  tell(line: string): void;
  /** Whether the person has asked to stop. */
  stopped(): boolean;
}

/** A path of the command line as an absolute one. */
export const pathOf = (io: Io, path: string): string => resolve(io.folder, path);

/**
 * The running process. npm starts scripts in the package's folder and says in INIT_CWD where the person stands; inherited from some
 * other script of npm that would be wrong, so it counts for our own only.
 */
export function processIo(): Io {
  const { INIT_CWD, npm_lifecycle_event: script } = process.env;
  let stopped = false;
  // Once: a second Ctrl+C ends the process at once.
  process.once('SIGINT', () => {
    stopped = true;
  });
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      // The reader has gone (`| head`): what it wanted, it has.
      if (error.code === 'EPIPE') process.exit(0);
      throw error;
    });
  }
  return {
    folder: script === 'waneline' && INIT_CWD ? INIT_CWD : process.cwd(),
    input: async () => (process.stdin.isTTY ? null : buffer(process.stdin)),
    print: (text) => process.stdout.write(text),
    tell: (line) => process.stderr.write(`${line}\n`),
    stopped: () => stopped,
  };
}
