import { READABLE, REFUSED } from '../photo/photo-kinds.ts';

/** A file as a browser's test is sent it: its bytes in base 64. */
interface SentFile {
  readonly name: string;
  readonly bytes: string;
}

declare module 'vitest/browser' {
  interface BrowserCommands {
    /** Photos of every kind, made in Node: those that can be read, and those that are refused. */
    photoKinds(): Promise<{
      readable: (SentFile & { within: number; grey: boolean })[];
      refused: (SentFile & { said: string })[];
    }>;
  }
}

const sent = async (bytes: Promise<Uint8Array>) => Buffer.from(await bytes).toString('base64');

export async function photoKinds() {
  const readable = READABLE.map(async ({ name, within, grey = false, bytes }) => ({
    name,
    within,
    grey,
    bytes: await sent(bytes()),
  }));
  const refused = REFUSED.map(async ({ name, said, bytes }) => ({
    name,
    said: said.source,
    bytes: await sent(bytes()),
  }));
  return { readable: await Promise.all(readable), refused: await Promise.all(refused) };
}
