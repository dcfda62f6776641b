import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { expectAccessible } from '../support/accessible';
import { useApp } from '../support/app';
import { readPdf } from '../support/read-pdf';

const app = useApp();

/** Long work on two cores. */
const LONG = { timeout: 120_000 };

const stage = (page: Page, name: RegExp) => page.getByRole('link', { name }).click();
const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name });
const facts = (page: Page) => page.locator('.stage-facts').textContent();

/** As a person would do it who has opened the app once and then lost the network: from two photos to the papers. */
test('the demo job, offline, from its photos to a PDF that names its slabs', { timeout: 240_000 }, async () => {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 800 } });
  await page.getByText('Ready offline').waitFor(LONG);
  await page.context().setOffline(true);
  await button(page, 'Open the demo job').click();

  // Stock: both photos are measured and traced.
  await button(page, 'Read the 2 photos').click();
  for (const name of ['Slab 2', 'Slab 3']) {
    await button(page, name).click();
    await page.getByText(/The traced edge is ±\d/).waitFor(LONG);
    await button(page, 'Outline').click();
    const points = Number((await page.getByText(/1–8 of \d+/).textContent())?.match(/of (\d+)/)?.[1]);
    expect(points, `points of the outline of ${name}`).toBeGreaterThan(20);
    await page.getByRole('button', { name: 'Photo', exact: true }).click();
  }
  await expect.poll(() => page.locator('progress').count(), LONG).toBe(0);
  await expectAccessible(page);

  // Layout: plans are worked out and one is kept.
  await stage(page, /Layout/);
  await button(page, 'Lay out the tops').click();
  await button(page, 'Keep Plan 1').waitFor(LONG);
  // More come while the best one so far can be kept already.
  await expect.poll(() => page.locator('.plan-card').count(), LONG).toBeGreaterThan(1);
  await button(page, 'Keep Plan 1').click();
  await page.getByText('Checked: every piece lies in sound wood').waitFor(LONG);

  // All of it is there after a reload, with the network still gone, and can be undone.
  await page.getByText('Saved here').waitFor();
  await page.reload();
  await button(page, 'Plan 1 is kept').waitFor(LONG);
  await button(page, 'Undo: Keep Plan 1').click();
  expect(await page.getByRole('button', { name: 'Keep Plan 1', exact: true }).isEnabled()).toBe(true);
  await button(page, 'Redo: Keep Plan 1').click();
  await expectAccessible(page);

  await stage(page, /Flattening/);
  await expect.poll(() => facts(page), LONG).toMatch(/Thickest flat board: \d+(\.\d)? ±\d/);
  await expect.poll(() => page.locator('.section-drawing').count(), LONG).toBe(1);
  await expectAccessible(page);
  await stage(page, /Keys/);
  await expect.poll(() => facts(page), LONG).toMatch(/\d+ keys?/);
  await expectAccessible(page);
  await stage(page, /Leaves/);
  await page.getByText('Checked: every piece lies on its own sound wood').waitFor(LONG);
  await button(page, 'Before the saw').click();
  await expect.poll(() => facts(page), LONG).toMatch(/8 leaves, [\d.]+ left of the board/);
  await expectAccessible(page);

  // Cutting map: seen as it will print, and saved.
  await stage(page, /Cutting map/);
  await page.getByRole('img', { name: /^Sheet: Cover/ }).waitFor(LONG);
  await expectAccessible(page);
  const [download] = await Promise.all([page.waitForEvent('download'), button(page, 'Save the PDF').click()]);
  const { pages, text } = await readPdf(new Uint8Array(await readFile(await download.path())));
  expect(pages.length).toBe(await page.locator('.pages button').count());
  for (const { width, height } of pages) {
    expect(Math.min(width, height)).toBeCloseTo(210, 0);
    expect(Math.max(width, height)).toBeCloseTo(297, 0);
  }
  for (const words of ['North wall counter', 'Slab 2', 'Slab 3', 'A to B', 'Order of work', 'Cautions', 'Press list'])
    expect(text).toContain(words);
});
