import { createReadStream, existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join, resolve } from 'node:path';
import type { Plugin } from 'vite';

/**
 * Serves the demo job under /demo/: job.json and the photos that it names. What else lies in the folder (its README, the
 * ground truth that tests measure against) stays out of the app. Nothing here is loaded before the demo is opened.
 */
export function serveDemoImages(folder: string): Plugin {
  return {
    name: 'waneline:demo-images',
    generateBundle() {
      for (const name of wanted(folder))
        this.emitFile({ type: 'asset', fileName: `demo/${name}`, source: readFileSync(join(folder, name)) });
    },
    configureServer(server) {
      server.middlewares.use('/demo', (request, response, next) => {
        const name = basename(request.url ?? '');
        if (wanted(folder).includes(name)) createReadStream(resolve(folder, name)).pipe(response);
        else next();
      });
    },
  };
}

function wanted(folder: string): string[] {
  const path = join(folder, 'job.json');
  if (!existsSync(path)) return [];
  const job = readFileSync(path, 'utf8');
  return readdirSync(folder).filter((name) => name === 'job.json' || job.includes(`"${name}"`));
}
