import { readFile } from 'node:fs/promises';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

/** The whole demo job as a person would do it, from two photos to the cutting map, whose PDF is read back by an independent reader. */
test('the demo job, from its photos to a PDF that names its slabs', { timeout: 240_000 }, async () => {
  const page = await app.open();
  await page.getByRole('button', { name: /demo job/i }).click();
  await page.getByRole('button', { name: 'Read the 2 photos' }).click({ timeout: 30_000 });
  // Both slabs are read one after the other: done when nothing has moved for three seconds.
  for (let quiet = 0; quiet < 3; ) {
    await page.waitForTimeout(1000);
    quiet = (await page.locator('progress').count()) > 0 ? 0 : quiet + 1;
  }
  const stage = async (name: RegExp) =>
    page.getByRole('link', { name }).or(page.getByRole('tab', { name })).first().click();
  await stage(/Layout/);
  // The second photo may still be read: the first plan waits until both slabs have their outlines.
  await expect.poll(() => page.locator('progress').count(), { timeout: 90_000 }).toBe(0);
  await page.getByRole('button', { name: 'Lay out the tops' }).click({ timeout: 30_000 });
  await page.locator('.plan-card').first().waitFor({ timeout: 120_000 });
  await page.getByRole('button', { name: /^Keep Plan 1/ }).click();
  await expect.poll(() => page.locator('.stage-facts').textContent(), { timeout: 30_000 }).toContain('Checked:');
  await page.reload();
  await page.getByRole('button', { name: 'Plan 1 is kept' }).waitFor({ timeout: 30_000 });
  await stage(/Flattening/);
  await expect
    .poll(() => page.locator('.stage-facts').textContent(), { timeout: 30_000 })
    .toMatch(/Thickest flat board: \d/);
  await stage(/Cutting map/);
  await page.getByRole('button', { name: 'Save the PDF' }).waitFor({ timeout: 60_000 });
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save the PDF' }).click(),
  ]);
  const bytes = new Uint8Array(await readFile(await download.path()));
  const pdf = await getDocument({ data: bytes }).promise;
  const words: string[] = [];
  for (let i = 1; i <= pdf.numPages; i++) {
    const { items } = await (await pdf.getPage(i)).getTextContent();
    words.push(...items.map((item) => ('str' in item ? item.str : '')));
  }
  const text = words.join(' ');
  expect(pdf.numPages).toBeGreaterThan(5);
  for (const name of ['North wall counter', 'Slab 2', 'Slab 3', 'A to B']) expect(text).toContain(name);
});
