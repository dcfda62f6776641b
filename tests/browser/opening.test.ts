import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { expectAccessible } from '../support/accessible';
import { useApp } from '../support/app';
import { shareJob } from '../support/share';

const app = useApp();

/** A new job reads in millimetres here. */
const METRIC = { locale: 'en-GB' };

const stage = (page: Page, name: RegExp) => page.getByRole('link', { name });

/** Offers files to "Open a job file". */
async function openFile(page: Page, files: { name: string; mimeType: string; buffer: Buffer }[]): Promise<void> {
  await page.getByLabel('Open a job file').setInputFiles(files);
}
const asJson = (value: unknown) => [
  { name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(value)) },
];

test('the opening screen says what this is and offers three ways in', async () => {
  const page = await app.open(METRIC);
  await page.getByText('see what tops they will yield').waitFor();
  for (const name of ['Open the demo job', 'New job'])
    expect(await page.getByRole('button', { name }).isEnabled()).toBe(true);
  expect(await page.getByLabel('Open a job file').isEnabled()).toBe(true);
  await page.getByText('Ready offline').waitFor();
});

test('a new job keeps its name, its units and its undo over a reload, and is listed', async () => {
  const page = await app.open(METRIC);
  await page.getByRole('button', { name: 'New job' }).click();
  const name = page.getByLabel('Name of the job');
  await name.fill('Island for the mill');
  await name.press('Enter');
  await page.getByRole('button', { name: /^in/ }).click();
  await page.getByRole('button', { name: 'Undo: Lengths in inches' }).waitFor();
  await page.getByText('Saved here').waitFor();
  await page.reload();
  expect(await name.inputValue()).toBe('Island for the mill');
  await page.getByRole('button', { name: 'Undo: Lengths in inches' }).click();
  await page.getByRole('button', { name: 'Undo: Rename the job' }).click();
  expect(await name.inputValue()).toBe('New job');
  await page.reload();
  await page.getByRole('button', { name: 'Redo: Rename the job' }).click();
  expect(await name.inputValue()).toBe('Island for the mill');
  await page.getByRole('link', { name: 'All jobs' }).click();
  await page.getByRole('link', { name: /Island for the mill/ }).waitFor();
});

test('lengths are typed as people type them, and a wrong one gets a sentence beside its field', async () => {
  const page = await app.open(METRIC);
  await page.getByRole('button', { name: 'New job' }).click();
  await stage(page, /Tops and doors/).click();
  await page.getByRole('button', { name: 'Add a top' }).first().click();
  const length = page.getByLabel('Length (mm)');
  await length.fill('7\' 2 5/8"');
  await page.getByText('= 2200.3').waitFor();
  await length.press('Enter');
  expect(await length.inputValue()).toBe('2200.3');
  await length.fill('about two metres');
  await length.press('Tab');
  await page
    .getByRole('alert')
    .filter({ hasText: /length/i })
    .waitFor();
  expect(await length.getAttribute('aria-invalid')).toBe('true');
  await length.press('Escape');
  expect(await length.inputValue()).toBe('2200.3');
});

test('a job goes out as a file and comes back as a job of its own', async () => {
  const page = await app.open(METRIC);
  await page.getByRole('button', { name: 'Open the demo job' }).click();
  await page.getByText('Saved here').waitFor();
  const download = await shareJob(page);
  expect(download.suggestedFilename()).toBe('North wall counter.zip');
  const buffer = readFileSync(await download.path());
  await page.getByRole('link', { name: 'All jobs' }).click();
  await openFile(page, [{ name: 'counter.zip', mimeType: 'application/zip', buffer }]);
  await page.getByText('Saved here').waitFor();
  expect(await page.getByLabel('Name of the job').inputValue()).toBe('North wall counter (copy)');
  await stage(page, /Stock, 2 slabs|Stock.*2 slabs/).waitFor();
  await page.getByRole('link', { name: 'All jobs' }).click();
  await expect.poll(() => page.getByRole('listitem').count()).toBe(2);

  await openFile(page, [
    { name: 'cut.zip', mimeType: 'application/zip', buffer: buffer.subarray(0, buffer.length / 2) },
  ]);
  await page.getByText('cut short or damaged').waitFor();
  expect(await page.getByRole('listitem').count()).toBe(2);
});

test('what is no job, and a job of a newer version, is refused with a sentence and nothing is stored', async () => {
  const page = await app.open(METRIC);
  await openFile(page, asJson({ cabinets: 3 }));
  await page.getByText('This is not a Waneline job').waitFor();
  await openFile(page, asJson({ schema: 99 }));
  await page.getByText('saved by a newer version').waitFor();
  await openFile(page, [{ name: 'job.json', mimeType: 'application/json', buffer: Buffer.alloc(0) }]);
  await page.getByText('This file is empty').waitFor();
  await openFile(page, asJson(JSON.parse(readFileSync('demo-images/job.json', 'utf8'))));
  await page.getByText('The photo "slab-2.jpg" that the job names is not with it.').waitFor();
  expect(await page.getByRole('listitem').count()).toBe(0);
});

test('a stored job that cannot be read is kept, and offered as a file', async () => {
  const page = await app.open(METRIC);
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByText('Saved here').waitFor();
  await page.goto('/');
  // As a newer app on the same device would leave it.
  await page.evaluate(
    () =>
      new Promise<void>((resolve) => {
        indexedDB.open('waneline').onsuccess = (event) => {
          const store = (event.target as IDBOpenDBRequest).result
            .transaction('shelf', 'readwrite')
            .objectStore('shelf');
          store.getAllKeys().onsuccess = (keys) => {
            const key = (keys.target as IDBRequest<string[]>).result.find((k) => k.startsWith('job/')) as string;
            store.put({ version: 99, note: 'from the future' }, key).onsuccess = () => resolve();
          };
        };
      }),
  );
  await page.getByRole('link', { name: /New job/ }).click();
  await page.getByText('saved by a newer version').waitFor();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save what is stored of it as a file' }).click(),
  ]);
  expect(readFileSync(await download.path(), 'utf8')).toContain('from the future');
  await page.reload();
  await page.getByRole('link', { name: /New job/ }).waitFor();
});

test('the guide opens over the page by keys, chapter by chapter, and Escape closes it', async () => {
  const page = await app.open(METRIC);
  const chapter = page.getByRole('button', { name: 'Reading the map' });
  await chapter.focus();
  await page.keyboard.press('Enter');
  const sheet = page.getByRole('region', { name: 'Guide' });
  await sheet.getByText('Drill the marks A and B').waitFor();
  await sheet.getByRole('button', { name: 'Cards and photo' }).click();
  await sheet.getByRole('img', { name: /card near each of its four corners/ }).waitFor();
  await expectAccessible(page);
  await page.keyboard.press('Escape');
  await sheet.waitFor({ state: 'detached' });
});
