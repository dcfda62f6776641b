import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

const facts = async (page: Page): Promise<string> =>
  ((await page.locator('.facts-body').textContent()) ?? '').replaceAll('\u00a0', ' ');
async function type(page: Page, label: string, text: string): Promise<void> {
  await page.getByLabel(label, { exact: true }).fill(text);
  await page.keyboard.press('Enter');
}

test('a board is typed under Stock with its cup; its leaves follow the way of sawing, and a thinner blade is tried before it is taken', async () => {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 390, height: 844 } });
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByRole('button', { name: /^Boards/ }).click();
  await page.getByRole('button', { name: 'Add a board' }).click();
  await page.locator('summary', { hasText: 'Cup, bow' }).click();
  await type(page, 'Cup, edges high (mm)', '4');
  await page.getByRole('link', { name: /Leaves/ }).click();

  // 50 less a cup of 4 and 1 off the face: 9 (2.6 + 1.3) + 8 x 0.5 + 5.9 is too little for a last piece of 8, so 8 leaves.
  await expect.poll(() => facts(page)).toMatch(/8 leaves, 10\.3 left of the board/);
  await page.getByRole('button', { name: 'From one face, not dressed: 9 leaves' }).click();
  await expect.poll(() => facts(page)).toMatch(/9 leaves, 9\.9 left of the board/);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => facts(page)).toContain('8 leaves');

  // 9 (2.6 + k) + 8 x 0.5 + 1 + 8 = 46 at k = 1.067.
  await page.getByRole('button', { name: 'Kerf of 1.06 mm: one more' }).click();
  const tried = page.getByLabel('Try another blade or leaf');
  await expect.poll(() => tried.locator('tbody strong').textContent()).toBe('9');
  expect(await facts(page)).toContain('8 leaves');
  await page.getByRole('button', { name: 'Make it so' }).click();
  await expect.poll(() => facts(page)).toMatch(/9 leaves, 8\.\d+ left of the board/);

  for (const button of await page.locator('.ways .button').all())
    expect((await button.boundingBox())?.height).toBeGreaterThanOrEqual(44);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(wide).toBeLessThanOrEqual(390);
});
