import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';
import type { Licence } from '../licences/licence';

/** Under which name the list lies beside the built app. */
export const LICENCES = 'licences.json';

/** What the service worker is put together from, after all else and by a builder of its own. */
const SERVICE_WORKER = ['workbox-core', 'workbox-precaching', 'workbox-routing', 'workbox-strategies'];

/** The last package that a module's path leads through. */
const PACKAGE = /^(.*[\\/]node_modules[\\/](?:@[^\\/]+[\\/])?[^\\/]+)[\\/]/;
const LICENCE_FILE = /^(licen[cs]e|copying)/i;

/** Lists the licence of every package of which something is shipped, in scripts of page and workers, as machine code or font. */
export function shippedLicences(): { page(): Plugin; worker(): Plugin } {
  const folders = new Set<string>();
  const note: Plugin['generateBundle'] = (_, bundle) => {
    for (const chunk of Object.values(bundle))
      for (const id of chunk.type === 'chunk' ? chunk.moduleIds : []) {
        const folder = PACKAGE.exec(id.replace(/^\0/, ''))?.[1];
        if (folder) folders.add(folder);
      }
  };
  return {
    // Workers are built before the page that starts them is put together.
    worker: () => ({ name: 'waneline:licences-worker', generateBundle: note }),
    page: () => ({
      name: 'waneline:licences',
      apply: 'build',
      generateBundle(options, bundle, isWrite) {
        if (typeof note === 'function') note.call(this, options, bundle, isWrite);
        for (const name of SERVICE_WORKER) folders.add(join('node_modules', name));
        const licences = [...folders].map(licenceOf).sort((a, b) => (a.name < b.name ? -1 : 1));
        this.emitFile({ type: 'asset', fileName: LICENCES, source: JSON.stringify(licences, null, 1) });
      },
    }),
  };
}

function licenceOf(folder: string): Licence {
  const { name, version, license } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const files = readdirSync(folder).filter((file) => LICENCE_FILE.test(file));
  const text = files.map((file) => readFileSync(join(folder, file), 'utf8').trim()).join('\n\n');
  const own = /^SEE /.test(license);
  return { name, version, licence: own ? 'its own' : String(license), text };
}
