import type { Page } from 'playwright';
import { beforeAll, expect, test } from 'vitest';
import type { Job } from '../../src/job';
import { useApp } from '../support/app';
import { warpedPlan } from '../support/warped-plan';

/** The flattening of two invented slabs that bow and twist, as a person looks at it. */
const app = useApp();
let job: Job;

beforeAll(async () => {
  job = await warpedPlan();
});

async function flattening(viewport: { width: number; height: number }): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport });
  await page
    .getByLabel('Open a job file')
    .setInputFiles([{ name: 'job.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(job)) }]);
  await page.getByRole('link', { name: /Flattening/ }).click();
  await page.getByRole('figure').first().waitFor({ timeout: 30_000 });
  return page;
}

const caption = (page: Page) => page.locator('.section-drawing figcaption').textContent();
const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();
const longOf = async (page: Page) => Number(/, (\d+) long/.exec((await caption(page)) ?? '')?.[1]);

test('the blank is seen from the side along any line: the usual ones by a tap, any other by keys or by dragging its ends', async () => {
  const page = await flattening({ width: 1280, height: 800 });
  // 2,200 and the shop's 25 for each end, as far as the slab goes.
  expect(await longOf(page)).toBeGreaterThan(2200);
  expect(await longOf(page)).toBeLessThanOrEqual(2250);
  await page
    .getByRole('radio', { name: 'across' })
    .or(page.getByText('across', { exact: true }))
    .first()
    .click();
  await expect.poll(() => longOf(page)).toBeLessThan(700);
  const across = await longOf(page);
  const sheet = page.getByRole('application', { name: /the blank on its slab/ });
  await sheet.focus();
  await page.keyboard.press('n');
  for (let i = 0; i < 5; i++) await page.keyboard.press('Shift+ArrowUp');
  // One end went 5 x 100 mm straight on, out of the blank or through it.
  await expect.poll(async () => [across + 500, 500 - across].includes(await longOf(page))).toBe(true);
  expect(await page.getByText('as drawn').count()).toBe(1);
});

test('where a pass cuts is hatched on the slab, heights are shown to scale when asked, and all faces tell their passes', async () => {
  const page = await flattening({ width: 1280, height: 800 });
  await press(page, 'Show where pass 1 of the upper face cuts');
  expect(
    await page.getByRole('button', { name: 'Show where pass 1 of the upper face cuts' }).getAttribute('aria-pressed'),
  ).toBe('true');
  expect(await caption(page)).toMatch(/exaggerated \d+ times/);
  await page.getByLabel('To scale').check();
  await expect.poll(() => caption(page)).toMatch(/to scale/);
  expect(await page.getByText(/The bit runs \d+ m and meets wood on \d+ m/).count()).toBe(2);
});

test('a handle says how much of a face may stay low: budget and passes follow, and it can be undone', async () => {
  const page = await flattening({ width: 1280, height: 800 });
  const budget = page.getByRole('region', { name: 'Thickness budget' });
  const before = await budget.textContent();
  const handle = page.getByRole('slider', { name: /upper face may stay low/ });
  await handle.focus();
  await page.keyboard.press('End');
  await page.getByText(/^Leave \d+\s% of the upper face low and gain \d/).waitFor();
  await expect.poll(() => budget.textContent(), { timeout: 15_000 }).not.toBe(before);
  await press(page, 'Undo: Leave part of a face low');
  await expect.poll(() => budget.textContent(), { timeout: 15_000 }).toBe(before);
  expect(await page.getByText('Nothing stays low.').count()).toBe(1);
  await page
    .getByRole('radio', { name: 'the underside' })
    .or(page.getByText('the underside', { exact: true }))
    .first()
    .click();
  await expect.poll(() => budget.textContent(), { timeout: 15_000 }).not.toBe(before);
});

test('on a phone the drawing stands above the facts, and nothing covers it', async () => {
  const page = await flattening({ width: 390, height: 844 });
  const drawing = await page.getByRole('region', { name: 'Flattening: drawing' }).boundingBox();
  const facts = await page.getByRole('region', { name: 'Flattening: facts' }).boundingBox();
  expect((drawing?.y ?? 0) + (drawing?.height ?? 0)).toBeLessThanOrEqual((facts?.y ?? 0) + 1);
});
