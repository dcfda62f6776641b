import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { preview } from 'vite';
import { expect, inject, test } from 'vitest';
import { readJobFile } from '../../src/job';
import { useApp } from '../support/app';

const app = useApp();

const name = (page: Page) => page.getByLabel('Name of the job');
async function rename(page: Page, to: string): Promise<void> {
  await name(page).fill(to);
  await name(page).press('Enter');
}
async function newJob(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByText('Saved here').waitFor();
}

/** What the browser grants in the test of a full disk, bytes: room for the app's own files and little more. */
const ROOM = 60e6;

/** Takes all room that the browser grants, down to some hundred bytes. */
async function fillDisk(page: Page): Promise<void> {
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        const opening = indexedDB.open('filler');
        opening.onupgradeneeded = () => opening.result.createObjectStore('junk', { autoIncrement: true });
        opening.onsuccess = () => {
          const database = opening.result;
          const put = (size: number): void => {
            if (size < 500) {
              database.close();
              resolve();
              return;
            }
            const junk = crypto.getRandomValues(new Uint8Array(Math.min(size, 65536)));
            const writing = database.transaction('junk', 'readwrite');
            for (let left = size; left > 0; left -= junk.length) writing.objectStore('junk').add(junk);
            writing.oncomplete = () => put(size);
            writing.onabort = () => put(size / 4);
          };
          put(8e6);
        };
      }),
  );
}

test('a full disk is said; the change stays on the screen, goes out as a file, and is saved once there is room', async () => {
  const page = await app.blank({ locale: 'en-GB' });
  const devtools = await page.context().newCDPSession(page);
  const origin = new URL(inject('appUrl')).origin;
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: ROOM });
  await page.goto('/');
  await newJob(page);
  await fillDisk(page);

  await rename(page, 'Typed on a full disk');
  const alert = page.locator('.job-trouble').getByRole('alert').filter({ hasText: 'no room left' });
  await alert.waitFor();
  expect(await name(page).inputValue()).toBe('Typed on a full disk');
  await rename(page, 'Typed on a full disk, too');
  expect(await name(page).inputValue()).toBe('Typed on a full disk, too');
  const downloads = page.waitForEvent('download');
  await alert.getByRole('button', { name: 'Save the job as a file' }).click();
  const { job } = await readJobFile(new Uint8Array(await readFile(await (await downloads).path())));
  expect(job.name).toBe('Typed on a full disk, too');

  // A photo that finds no room is refused whole, with the job as it was.
  await page.getByLabel('Add photos of slabs').setInputFiles('demo-images/slab-3.jpg');
  await page
    .getByText(/no room left/)
    .nth(1)
    .waitFor();
  await page.getByRole('button', { name: /^Undo: Rename/ }).waitFor();

  await devtools.send('Storage.overrideQuotaForOrigin', { origin });
  // The browser may take a while to notice.
  await expect
    .poll(
      async () => {
        await alert
          .getByRole('button', { name: 'Try again' })
          .click({ timeout: 1000 })
          .catch(() => {});
        return page.getByText('Saved here').count();
      },
      { timeout: 30_000, interval: 500 },
    )
    .toBe(1);
  await alert.waitFor({ state: 'detached' });
  await page.reload();
  await expect.poll(() => name(page).inputValue()).toBe('Typed on a full disk, too');
  await page.getByRole('button', { name: 'Undo: Rename the job' }).click();
  await expect.poll(() => name(page).inputValue()).toBe('Typed on a full disk');
});

/** The worker of a page by its name, once it runs. */
async function workerOf(page: Page, file: RegExp) {
  await expect.poll(() => page.workers().some((worker) => file.test(worker.url())), { timeout: 20_000 }).toBe(true);
  return page.workers().find((worker) => file.test(worker.url())) as ReturnType<Page['workers']>[number];
}

/** Waits until a worker has told how far it is: before that, and between two calls, it has nothing to lose and a crash is nobody's business. */
const underWay = (page: Page) => page.waitForFunction(() => (document.querySelector('progress')?.value ?? 0) > 0);

test('a worker that crashes is told once and replaced; one that hangs is ended by Stop; the job stays as it was', async () => {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
  await page.getByRole('button', { name: 'Open the demo job' }).click();
  const read = page.getByRole('button', { name: 'Read the 2 photos' });
  await read.click();
  const first = await workerOf(page, /photo\.worker/);
  await underWay(page);
  await first.evaluate(() => {
    setTimeout(() => {
      throw new Error('crashed in a test');
    });
  });
  await page.getByText('crashed in a test').first().waitFor();
  app.forgive(/crashed in a test/);
  await expect.poll(() => page.locator('progress').count()).toBe(0);
  expect(await page.getByText('crashed in a test').count()).toBe(1);
  // Nothing was tried again by itself, and nothing was changed.
  await expect.poll(() => page.workers().includes(first)).toBe(false);
  expect(page.workers().some((worker) => /photo\.worker/.test(worker.url()))).toBe(false);
  expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);

  await read.click();
  const second = await workerOf(page, /photo\.worker/);
  await underWay(page);
  await second.evaluate(() => {
    setTimeout(() => {
      for (;;);
    });
  });
  await page.getByRole('button', { name: 'Stop' }).first().click();
  await expect.poll(() => page.locator('progress').count(), { timeout: 10_000 }).toBe(0);
  await expect.poll(() => page.workers().includes(second), { timeout: 20_000 }).toBe(false);
  await read.waitFor();
});

test('a newer version waits until it is accepted: the old one works on, offline too, and the job goes over', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'waneline-two-versions-'));
  await cp(inject('appFolder'), folder, { recursive: true });
  const server = await preview({ logLevel: 'silent', build: { outDir: folder }, preview: { port: 0 } });
  const url = server.resolvedUrls?.local[0] as string;
  try {
    const page = await app.blank({ locale: 'en-GB', baseURL: url });
    await page.goto('/');
    await page.getByText('Ready offline').waitFor({ timeout: 30_000 });
    await newJob(page);
    await rename(page, 'Begun in the old version');
    await page.getByText('Saved here').waitFor();

    // The next version: another page, and a service worker that knows it by another mark.
    const html = await readFile(join(folder, 'index.html'), 'utf8');
    await writeFile(join(folder, 'index.html'), html.replace(/<title>.*<\/title>/, '<title>Newer</title>'));
    const worker = await readFile(join(folder, 'sw.js'), 'utf8');
    const marked = worker.replace(
      /(url:"index\.html",revision:")\w+|(revision:")\w+(",url:"index\.html")/,
      '$1$2newer$3',
    );
    expect(marked).not.toBe(worker);
    await writeFile(join(folder, 'sw.js'), marked);

    await page.reload();
    const note = page.getByText('A newer version is here.');
    await note.waitFor({ timeout: 30_000 });
    expect(await page.title()).not.toBe('Newer');
    await rename(page, 'Went on in the old version');
    await page.getByText('Saved here').waitFor();
    await page.context().setOffline(true);
    await page.reload();
    await expect.poll(() => name(page).inputValue()).toBe('Went on in the old version');
    expect(await page.title()).not.toBe('Newer');

    await page.context().setOffline(false);
    await note.waitFor();
    await page.getByRole('button', { name: 'Use it now' }).click();
    await expect.poll(() => page.title().catch(() => ''), { timeout: 20_000 }).toBe('Newer');
    await expect.poll(() => name(page).inputValue()).toBe('Went on in the old version');
    await page.getByRole('button', { name: 'Undo: Rename the job' }).click();
    await expect.poll(() => name(page).inputValue()).toBe('Begun in the old version');
    await note.waitFor({ state: 'detached' });
  } finally {
    await server.close();
    await rm(folder, { recursive: true });
  }
});
