import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

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

test('the app opens again with the network gone', async () => {
  const page = await app.open();
  await page.evaluate(async () => void (await navigator.serviceWorker.ready));
  await page.context().setOffline(true);
  await page.reload();
  await page.getByRole('heading', { name: 'Waneline' }).waitFor();
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
