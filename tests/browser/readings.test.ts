import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { readPdf } from '../support/read-pdf';
import { wavyJob } from '../support/wavy-slabs';

/** Readings of an invented slab, typed with one thumb on a phone and looked over on a laptop. */
const app = useApp();

async function slabToRead(viewport: { width: number; height: number }): Promise<Page> {
  const job = wavyJob([{ length: 2600, width: 520, swing: 12, thickness: 54 }], {});
  for (const { slabs } of Object.values(job.flitches)) for (const slab of Object.values(slabs)) slab.spots = {};
  const page = await app.open({ locale: 'en-GB', viewport });
  await page
    .getByLabel('Open a job file')
    .setInputFiles([{ name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(job)) }]);
  await page.getByText('Readings', { exact: true }).click();
  await page.getByRole('button', { name: 'Add 3 × 5 spots' }).click();
  return page;
}

const now = (page: Page) => page.getByRole('form', { name: 'Readings one by one' }).locator('input');
const filled = (page: Page) => page.getByText(/\d+ of 25 boxes filled/).textContent();

test('drops and thicknesses are typed one after the other with Enter, on a phone; an empty box is passed over', async () => {
  const page = await slabToRead({ width: 390, height: 844 });
  await page.getByLabel('Drop to the upper face, spot 1 (mm)').click();
  for (let i = 0; i < 15; i++) {
    if (i !== 7) await page.keyboard.type(String(30 + (i % 4)));
    await page.keyboard.press('Enter');
  }
  await page.getByLabel('Thickness, spot 1 (mm)').waitFor();
  for (let i = 0; i < 10; i++) {
    await page.keyboard.type('54');
    await page.keyboard.press('Enter');
  }
  expect(await filled(page)).toMatch(/^24 of 25/);
  // 54 mm of even thickness, of which the drops differ by 3 along and across.
  await page.getByText(/Flattened whole, the thickest flat board in it: 4\d/).waitFor();
  // Nothing typed is lost over a reload, and a figure that cannot be read is kept in its box with the reason.
  await page.getByText('Saved here').waitFor();
  await page.reload();
  await page.getByText('Readings', { exact: true }).click();
  expect(await filled(page)).toMatch(/^24 of 25/);
  await now(page).fill('thirty');
  await page.keyboard.press('Enter');
  await page
    .getByRole('alert')
    .filter({ hasText: /thirty/ })
    .waitFor();
  expect(await now(page).inputValue()).toBe('thirty');
});

test('an inch typed as millimetres is asked about, and one tap takes what was meant', async () => {
  const page = await slabToRead({ width: 1280, height: 800 });
  await page.getByLabel('Drop to the upper face, spot 1 (mm)').click();
  for (let i = 0; i < 15; i++) {
    await page.keyboard.type(i === 5 ? '1.25' : '32');
    await page.keyboard.press('Enter');
  }
  for (let i = 0; i < 10; i++) {
    await page.keyboard.type('54');
    await page.keyboard.press('Enter');
  }
  const asked = page.getByRole('region', { name: 'Asked about the readings' });
  await asked.getByText(/inches typed as millimetres/).waitFor();
  await asked.getByRole('button', { name: /^Take a drop of 31\.8/ }).click();
  await expect.poll(() => asked.count()).toBe(0);
  await page.getByRole('button', { name: 'Undo: Mend a reading' }).click();
  await asked.getByRole('button', { name: 'It is right' }).first().click();
  await expect.poll(() => asked.getByText(/inches typed as millimetres/).count()).toBe(0);
});

test('a sheet to fill in carries every spot with where it lies, and how to read', async () => {
  const page = await slabToRead({ width: 1280, height: 800 });
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a sheet to fill in (PDF)' }).click(),
  ]);
  const { pages, text } = await readPdf(new Uint8Array(await readFile(await download.path())));
  expect(pages).toHaveLength(1);
  expect(text).toMatch(/bearer, 572 along/);
  expect(text).toMatch(/Lay the slab on two bearers/);
});
