import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join, resolve } from 'node:path';
import { cruise, type ICruiseOptions, type ICruiseResult } from 'dependency-cruiser';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const config = createRequire(import.meta.url)('../.dependency-cruiser.cjs');

async function cruiseFolder(baseDir: string): Promise<ICruiseResult> {
  const options: ICruiseOptions = {
    ...config.options,
    baseDir,
    validate: true,
    ruleSet: { forbidden: config.forbidden },
  };
  const { output } = await cruise(['src', 'workers'], options);
  return output as ICruiseResult;
}

async function scripts(folder: string): Promise<string[]> {
  const files = await readdir(folder, { recursive: true });
  return files.filter((file) => /\.tsx?$/.test(file)).map((file) => `${folder}/${file.replaceAll('\\', '/')}`);
}

/** A file, what it imports, and the rule that this breaks; null where it is allowed. */
const IMPORTS: [file: string, imports: string, rule: string | null][] = [
  ['src/units/upward.ts', '../geometry', 'units-never-upward'],
  ['src/geometry/upward.ts', '../wood', 'geometry-never-upward'],
  ['src/wood/upward.ts', '../job', 'wood-never-upward'],
  ['src/job/upward.ts', '../search', 'job-never-upward'],
  ['src/raster/upward.ts', '../grain', 'surface-raster-search-never-upward'],
  ['src/grain/upward.ts', '../photo', 'grain-never-upward'],
  ['src/photo/upward.ts', '../flattening', 'photo-never-upward'],
  ['src/flattening/upward.ts', '../layout', 'flattening-never-upward'],
  ['src/keys/upward.ts', '../plan', 'layout-keys-leaves-never-upward'],
  ['src/plan/upward.ts', '../cutmap', 'plan-never-upward'],
  ['src/cutmap/upward.ts', '../cli', 'cutmap-never-upward'],
  ['src/cli/upward.ts', '../app', 'cli-never-upward'],
  ['src/keys/type-upward.ts', 'type ../plan', 'layout-keys-leaves-never-upward'],
  ['src/surface/sideways.ts', '../search', 'surface-raster-search-never-sideways'],
  ['src/layout/sideways.ts', '../leaves', 'layout-keys-leaves-never-sideways'],
  ['src/app/sideways.ts', '../cli', 'cli-and-app-are-apart'],
  ['workers/upward.worker.ts', '../src/app', 'workers-never-upward'],
  ['src/plan/starts-worker.ts', '../../workers/allowed.worker', 'only-app-starts-workers'],
  ['src/cli/starts-worker.ts', '../../workers/allowed.worker', 'only-app-starts-workers'],
  ['src/plan/side-door.ts', '../units/inner', 'by-the-front-door'],
  ['workers/side-door.worker.ts', '../src/units/inner', 'workers-by-the-front-door'],
  ['src/app/no-room.ts', '../cellar', 'every-file-has-a-room'],
  ['src/app/builds.ts', './build/helper', 'build-helpers-stay-in-the-build'],
  ['src/plan/node.ts', 'node:fs', 'pure-rooms-know-no-node'],
  ['src/app/test-code.ts', '../../tests/helper', 'no-test-code'],
  ['src/job/circle.ts', './circle-back', 'no-circle'],
  ['src/job/circle-back.ts', './circle', 'no-circle'],
  ['src/job/missing.ts', './nowhere', 'nothing-missing'],
  ['src/grain/opencv.ts', 'opencv.js', 'opencv.js-has-one-keeper'],
  ['src/layout/highs.ts', 'highs', 'highs-has-one-keeper'],
  ['src/app/highs.ts', 'highs/runtime?url', 'highs-has-one-keeper'],
  ['src/app/pdf.ts', 'pdf-lib', 'pdf-lib-has-one-keeper'],
  ['src/app/fontkit.ts', '@pdf-lib/fontkit', 'pdf-lib-has-one-keeper'],
  ['src/plan/dxf.ts', '@tarikjabiri/dxf', 'pdf-lib-has-one-keeper'],
  ['src/layout/clipper.ts', 'clipper2-ts', 'clipper2-ts-has-one-keeper'],
  ['src/surface/delaunator.ts', 'delaunator', 'clipper2-ts-has-one-keeper'],
  ['src/app/second-canvas.ts', 'fabric', 'fabric-has-one-keeper'],
  ['src/app/second-store.ts', 'idb-keyval', 'idb-keyval-has-one-keeper'],
  ['src/plan/screen.ts', '@preact/signals', 'preact-has-one-keeper'],
  ['src/photo/sharp.ts', 'sharp', 'sharp-has-one-keeper'],
  ['src/plan/allowed.ts', '../units', null],
  ['src/units/allowed.ts', './inner', null],
  ['src/photo/allowed.ts', 'opencv.js', null],
  ['src/search/allowed.ts', 'highs', null],
  ['src/cutmap/allowed.ts', 'pdf-lib', null],
  ['src/app/allowed.ts', '../../workers/allowed.worker', null],
  ['src/app/canvas/drawing.ts', 'fabric', null],
  ['src/app/storage.ts', 'idb-keyval', null],
  ['src/cli/allowed.ts', 'sharp', null],
  ['src/app/address.ts', 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf?url', null],
  ['src/app/offline.ts', 'virtual:pwa-register', null],
  ['workers/allowed.worker.ts', '../src/photo', null],
  ['workers/address.worker.ts', 'highs/runtime?url', null],
];

describe('the rules bite', () => {
  // Inside the repo, so that packages resolve.
  const folder = resolve('test-results', `boundaries-${process.pid}`);
  const broken = new Map<string, string[]>();

  beforeAll(async () => {
    const rooms = [...new Set(IMPORTS.map(([file]) => dirname(file)))].filter((path) => path.startsWith('src/'));
    const empty = [...rooms, 'src/leaves', 'src/cellar'].map((room) => `${room}/index.ts`);
    const files = new Map(
      [...empty, 'src/units/inner.ts', 'src/app/build/helper.ts', 'tests/helper.ts'].map((f) => [f, '']),
    );
    for (const [file, imports] of IMPORTS) {
      const [, type = '', path] = /^(type )?(.*)$/.exec(imports)!;
      files.set(file, `import ${type}* as it from '${path}';\nexport type It = typeof it;\n`);
    }
    for (const [file, text] of files) {
      await mkdir(join(folder, dirname(file)), { recursive: true });
      await writeFile(join(folder, file), text || 'export {};\n');
    }
    for (const { from, rule, cycle = [] } of (await cruiseFolder(folder)).summary.violations)
      for (const file of [from, ...cycle.map(({ name }) => name)])
        broken.set(file, [...(broken.get(file) ?? []), rule.name]);
  });
  afterAll(() => rm(folder, { recursive: true }));

  test.each(IMPORTS)('%s imports %s: %s', (file, _imports, rule) => {
    if (rule === null) expect(broken.get(file)).toBeUndefined();
    else expect(broken.get(file)).toContain(rule);
  });

  test('each rule is tried', () => {
    const tried = new Set(IMPORTS.map(([, , rule]) => rule));
    for (const { name } of config.forbidden) expect(tried).toContain(name);
  });
});

// The rules are held by `depcruise` in `npm test`; it would hold them over nothing if it could not read TypeScript.
test('every file of the house is looked at', async () => {
  const { modules } = await cruiseFolder(resolve('.'));
  const seen = modules.map(({ source }) => source);
  const present = [...(await scripts('src')), ...(await scripts('workers'))];
  expect(present.length).toBeGreaterThan(20);
  expect(seen).toEqual(expect.arrayContaining(present));
});
