import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright';
import { preview } from 'vite';
import { expect, inject, test } from 'vitest';
import { useApp } from '../support/app';
import { browserLaunch } from '../support/browser';
import { keyedJobFile } from '../support/keyed-job';
import { readPdf } from '../support/read-pdf';

const app = useApp();

/** Long work on two cores. */
const LONG = { timeout: 120_000 };

test('less than 170 kB of script is loaded before the first photo', async () => {
  // The service worker fetches the rest after first paint; it is kept out, to see what a new job needs up to its empty Stock stage.
  const page = await app.blank({ serviceWorkers: 'block' });
  const scripts: Promise<number>[] = [];
  page.on('response', (response) => {
    if (response.request().resourceType() === 'script')
      scripts.push(response.body().then((body) => gzipSync(body).length));
  });
  await page.goto('/', { waitUntil: 'networkidle' });
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByLabel('Add photos of slabs').waitFor({ state: 'attached' });
  await page.waitForLoadState('networkidle');

  const bytes = (await Promise.all(scripts)).reduce((sum, size) => sum + size, 0);
  expect(bytes).toBeGreaterThan(1_000);
  expect(bytes).toBeLessThan(170_000);
});

test('installed, and started cold with nothing that serves it: a photo is traced and the papers are made', {
  timeout: 240_000,
}, async () => {
  const profile = await mkdtemp(join(tmpdir(), 'waneline-cold-'));
  const server = await preview({
    logLevel: 'warn',
    build: { outDir: inject('appFolder') },
    preview: { port: 0 },
  });
  const url = server.resolvedUrls?.local[0] ?? '';
  const start = async () => {
    const context = await chromium.launchPersistentContext(profile, { ...(await browserLaunch()), locale: 'en-GB' });
    return { context, page: context.pages()[0] ?? (await context.newPage()) };
  };
  try {
    const first = await start();
    await first.page.goto(url);
    await first.page.getByText('Ready offline').waitFor(LONG);
    await first.context.close();
    await server.close();
    expect(await fetch(url).catch(() => 'nobody')).toBe('nobody');

    const { context, page } = await start();
    await page.goto(url);
    const file = { name: 'keyed.zip', mimeType: 'application/zip', buffer: await keyedJobFile() };
    await page.getByLabel('Open a job file').setInputFiles(file);
    await page.getByRole('link', { name: /Cutting map/ }).click();
    const save = page.getByRole('button', { name: 'Save the PDF' });
    await save.waitFor(LONG);
    const [pdf] = await Promise.all([page.waitForEvent('download'), save.click()]);
    const { text } = await readPdf(new Uint8Array(await readFile(await pdf.path())));
    expect(text).toContain('Desk');

    await page.getByRole('link', { name: 'All jobs' }).click();
    await page.getByRole('button', { name: 'New job' }).click();
    await page.getByLabel('Add photos of slabs').setInputFiles('demo-images/slab-2.jpg');
    await page.getByText(/^Photo read: outline traced, \d+ defects/).waitFor(LONG);
    await context.close();
  } finally {
    await server.close();
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  }
});

test('nothing leaves the page: neither it nor a worker of it reaches another place, once it is ready offline', async () => {
  let asked = 0;
  const elsewhere = createServer((_, response) => {
    asked++;
    response.setHeader('Access-Control-Allow-Origin', '*').end('reached');
  }).listen(0, '127.0.0.1');
  await once(elsewhere, 'listening');
  const { port } = elsewhere.address() as AddressInfo;
  const fetched = (url: string) =>
    fetch(url).then(
      (answer) => answer.text(),
      () => 'stopped',
    );
  try {
    const page = await app.blank();
    // Its policy says what it forbids, which is no fault here.
    await page.goto('/');
    await page.evaluate(async () => void (await navigator.serviceWorker.ready));
    await page.reload();
    const url = `http://127.0.0.1:${port}/`;
    const inPage = await page.evaluate(fetched, url).catch(() => 'stopped');
    const started = page.waitForEvent('worker');
    // Any script of the app makes a worker.
    await page.evaluate(() => void new Worker('closed-worker.js'));
    expect(await (await started).evaluate(fetched, url)).toBe('stopped');
    expect(inPage).toBe('stopped');
    expect(asked).toBe(0);
    app.forgive(/Content Security Policy/);
  } finally {
    elsewhere.close();
  }
});
