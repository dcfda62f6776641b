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
