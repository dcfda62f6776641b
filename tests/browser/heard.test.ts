import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { expectAccessible } from '../support/accessible';
import { useApp } from '../support/app';
import { walkDemo } from '../support/demo-walk';
import { expectHeard } from '../support/heard';
import { keyedJobFile } from '../support/keyed-job';
import { PHONE } from '../support/targets';

const app = useApp();

/** All that can be opened on a page is open, as far down as it goes. */
async function openAll(page: Page): Promise<void> {
  const closed = page.locator('main details:not([open]) > summary');
  while (await closed.count()) await closed.first().evaluate((summary: HTMLElement) => summary.click());
}

const look = async (page: Page) => {
  await openAll(page);
  await expectHeard(page);
  await expectAccessible(page);
};

test('what a screen reader is given makes sense at every stage, on a wide screen', { timeout: 120_000 }, async () => {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
  await expectHeard(page);
  const file = { name: 'keyed.zip', mimeType: 'application/zip', buffer: await keyedJobFile() };
  await page.getByLabel('Open a job file').setInputFiles(file);
  for (const name of [/Stock/, /Tops and doors/, /Layout/, /Flattening/, /Keys/, /Leaves/, /Cutting map/]) {
    await page.getByRole('link', { name }).click();
    await page.getByText('Saved here').waitFor();
    await openAll(page);
    await expectHeard(page);
  }
});

test.runIf(process.env.SLOW)(
  'nothing is found against any stage of the demo job with all of its cards open, nor against dialogs and what was typed wrong',
  { timeout: 900_000 },
  async () => {
    const page = await app.open(PHONE);
    await walkDemo(page, () => look(page));
    await page.getByRole('link', { name: /North wall counter/ }).click();
    await page.getByRole('link', { name: /Leaves/ }).click();
    await page.getByRole('button', { name: 'Before the saw', exact: true }).click();
    await look(page);

    const wide = await app.open({ locale: 'en-US', viewport: { width: 1280, height: 900 } });
    const file = { name: 'keyed.zip', mimeType: 'application/zip', buffer: await keyedJobFile() };
    await wide.getByLabel('Open a job file').setInputFiles(file);
    const press = (name: string) => wide.getByRole('button', { name, exact: true }).first().click();
    for (const panel of ['Photo', 'Outline', 'Defects', 'Layers', 'Readings', 'Slab', 'Boards']) {
      await press(panel);
      await look(wide);
    }
    await wide.getByRole('link', { name: /Tops and doors/ }).click();
    // Whatever is typed wrong has its sentence.
    for (const part of ['Tops', 'Doors', 'Shop allowances']) {
      await press(part);
      if (part === 'Doors') await press('Add doors');
      await openAll(wide);
      const field = wide.locator('.facts-body input[type=text]').nth(1);
      await field.fill('about two');
      await field.press('Tab');
      expect(await wide.locator('[aria-invalid=true]').count()).toBe(1);
      await look(wide);
    }
    await wide.getByRole('link', { name: /Layout/ }).click();
    await press('Which slabs to buy');
    await look(wide);
    await press('Steps');
    await look(wide);
    await wide.keyboard.press('Escape');
    await wide.getByRole('link', { name: /Cutting map/ }).click();
    await press('How to read it');
    await look(wide);
  },
);
