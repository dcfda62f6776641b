import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, preview } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the built app is served, with a slash at the end. */
    appUrl: string;
    /** The folder that it was built into. */
    appFolder: string;
    /** A folder for what one test file makes and the next ones use. */
    shared: string;
  }
}

/** Builds the app into a folder of its own and serves it on a free port for as long as the tests run. */
export default async function serveApp(project: TestProject) {
  const shared = await mkdtemp(join(tmpdir(), 'waneline-app-'));
  const outDir = join(shared, 'dist');
  // Vitest says "test", and JSX would be built for developers: a fifth more script than what is served.
  process.env.NODE_ENV = 'production';
  await build({ mode: 'production', logLevel: 'warn', build: { outDir, emptyOutDir: true } });
  const server = await preview({ logLevel: 'warn', build: { outDir }, preview: { port: 0 } });
  const url = server.resolvedUrls?.local[0];
  if (!url) throw new Error('the built app is not served');
  project.provide('appUrl', url);
  project.provide('appFolder', outDir);
  project.provide('shared', shared);
  return async () => {
    await server.close();
    await rm(shared, { recursive: true });
  };
}
