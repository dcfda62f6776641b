import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { allRead } from '../support/demo-walk';

const app = useApp();
const slow = test.runIf(process.env.SLOW);

const LONG = { timeout: 240_000 };
/** A first job is there with fewer taps than these: one a step, and what the photos show. */
const TAPS = 8;

const photo = (slab: 2 | 3): string => `demo-images/slab-${slab}.jpg`;
/** The filled button: what a person taps who reads nothing else. Of two that say the same, the one under the thumb. */
const filled = (page: Page) => page.locator('.button.main:visible').last();

/**
 * From an empty shelf to the cutting map by the filled buttons alone.
 * @returns how many taps it took
 */
async function walk(page: Page, photos: readonly string[]): Promise<number> {
  await page.getByRole('button', { name: 'New job' }).click();
  const chosen = page.waitForEvent('filechooser');
  await filled(page).click();
  await (await chosen).setFiles([...photos]);
  let taps = 2;
  if (photos.length > 1) {
    await page.getByRole('button', { name: 'One slab each' }).and(page.locator('.main')).click(LONG);
    taps++;
  }
  for (const says of ['say what top', 'lay the tops out', 'keep the plan', 'see the cutting map']) {
    await filled(page).filter({ hasText: says }).click(LONG);
    taps++;
    if (says === 'say what top') await page.getByLabel('Length (mm)').waitFor(LONG);
  }
  await page.locator('.page-picture').first().waitFor(LONG);
  await page.getByRole('button', { name: 'Save the PDF' }).waitFor(LONG);
  return taps;
}

const screens = [
  { locale: 'en-GB', viewport: { width: 390, height: 844 }, hasTouch: true },
  { locale: 'en-GB', viewport: { width: 1280, height: 800 } },
];

slow.for(screens)('a first job ends with a cutting map by the filled buttons alone', LONG, async (screen) => {
  const page = await app.open(screen);
  expect(await walk(page, [photo(2), photo(3)])).toBeLessThanOrEqual(TAPS);
});

slow('a slab that gives no usual top is proposed as large a one as it gives, which then has a plan', LONG, async () => {
  const page = await app.open(screens[0]);
  expect(await walk(page, [photo(2)])).toBeLessThanOrEqual(TAPS);
  await page.getByRole('link', { name: /Tops and doors/ }).click();
  await page.getByText('As large as your slabs give').waitFor();
  // Typed over, it is a proposal no more.
  const length = page.getByLabel('Length (mm)');
  await length.fill('900');
  await length.press('Enter');
  await page.getByText('As large as your slabs give').waitFor({ state: 'detached' });
});

slow('where no plan is found one tap takes a size that was found to do, and Undo takes it back', LONG, async () => {
  const page = await app.open(screens[0]);
  await walk(page, [photo(2)]);
  await page.getByRole('link', { name: /Tops and doors/ }).click();
  const length = page.getByLabel('Length (mm)');
  await length.fill('2600');
  await length.press('Enter');
  await page.getByRole('link', { name: /Layout/ }).click();
  await page.getByRole('button', { name: 'Lay out again' }).click();
  await allRead(page);
  const make = page.getByRole('button', { name: /^Make it/ }).first();
  const words = ((await make.textContent(LONG)) ?? '').replace('Make it ', '');
  await make.click();
  await page.getByRole('button', { name: `Undo: Top ${words}` }).click(LONG);
  await page.getByText('cannot be had from these slabs').waitFor();
});
