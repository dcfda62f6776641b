import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import type { Job, Slab } from '../../src/job';
import { useApp } from '../support/app';
import { keyedJobFile } from '../support/keyed-job';
import { sharedJob } from '../support/share';

const app = useApp();

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });
const region = (page: Page, name: string) => page.getByRole('region', { name, exact: true });
const along = (page: Page, mark: 'A' | 'B') => page.getByLabel(`Along of mark ${mark} (mm)`);
const at = async (page: Page, mark: 'A' | 'B') => Number(await along(page, mark).inputValue());
const tapeOf = (page: Page, name: string) => page.getByLabel(`The tape from ${name} (mm)`);
const tape = (page: Page) => region(page, 'What the tape says');
const row = (page: Page, name: string) =>
  tape(page).locator('tr', { has: page.getByRole('rowheader', { name, exact: true }) });
const shouldRead = async (page: Page, name: string) =>
  Number.parseFloat((await row(page, name).locator('td').first().textContent()) ?? '');

/** A job with a plan, opened at the marks of its slab. */
async function opened(viewport = { width: 1280, height: 900 }): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport, hasTouch: viewport.width < 500 });
  const file = { name: 'keyed.zip', mimeType: 'application/zip', buffer: await keyedJobFile() };
  await page.getByLabel('Open a job file').setInputFiles(file);
  await page.getByRole('link', { name: /Cutting map/ }).click();
  await button(page, 'Marks and tape').click();
  // With the plan come the points.
  await region(page, 'Points to find').waitFor();
  return page;
}

async function shared(page: Page): Promise<{ job: Job; slab: Slab }> {
  const { job } = await sharedJob(page);
  return { job, slab: Object.values(Object.values(job.flitches)[0]!.slabs)[0]! };
}

test('marks are moved by keys, tap, drag and number, judged, and others offered; drilled ones stay', {
  timeout: 40_000,
}, async () => {
  const page = await opened();
  const sheet = page.getByRole('application');
  const first = await at(page, 'A');
  await button(page, 'Choose mark A').click();
  await sheet.focus();
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => at(page, 'A')).toBe(first + 1);
  await page.keyboard.press('Shift+ArrowRight');
  await expect.poll(() => at(page, 'A')).toBe(first + 11);

  // A mark that is held goes where the slab is tapped; from there it is dragged back.
  const box = (await sheet.boundingBox())!;
  const [x, y] = [box.x + box.width * 0.4, box.y + box.height * 0.42];
  await page.mouse.click(x, y);
  await expect.poll(() => at(page, 'A')).toBeGreaterThan(first + 200);
  await region(page, 'Marks')
    .getByText(/^A lies in .*where its hole would show/)
    .waitFor();
  const tapped = await at(page, 'A');
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x - 40, y);
  await page.mouse.move(x - 80, y);
  await page.mouse.up();
  await expect.poll(() => at(page, 'A')).toBeLessThan(tapped - 50);

  await along(page, 'A').fill(String((await at(page, 'B')) - 60));
  await along(page, 'A').press('Enter');
  await region(page, 'Marks')
    .getByText(/A and B lie only .* apart/)
    .waitFor();
  await button(page, 'Offer others').click();
  await expect.poll(() => region(page, 'Marks').getByRole('alert').count()).toBe(0);

  await region(page, 'Marks').getByRole('button', { name: 'yes', exact: true }).click();
  const { slab } = await shared(page);
  expect(slab.drilled).toBe('after');
  expect(slab.marks![0][0]).toBeCloseTo(await at(page, 'A'), 1);
});

test('the tape says that the marking is right, or that the photo was off and the plan moves; nothing typed is lost', {
  timeout: 40_000,
}, async () => {
  const page = await opened({ width: 390, height: 844 });
  const type = async (name: string, mm: number) => {
    await tapeOf(page, name).fill(mm.toFixed(1));
    await tapeOf(page, name).press('Enter');
  };
  await region(page, 'Marks').getByRole('button', { name: 'before the photo', exact: true }).click();
  const names = await tape(page).getByRole('rowheader').allInnerTexts();
  const said = await Promise.all(names.slice(0, 3).map((name) => shouldRead(page, name)));
  for (const [i, name] of names.slice(0, 3).entries()) await type(name, said[i]! + 0.4);
  await tape(page)
    .getByText(/The marking is right/)
    .waitFor();
  // What is no length stays as it was typed, and says what it should be.
  await tapeOf(page, names[0]!).fill('twelve');
  await tapeOf(page, names[0]!).press('Enter');
  await tape(page).getByRole('alert').filter({ hasText: 'is not a length' }).waitFor();

  await type(names[0]!, said[0]! * 1.006);
  for (const name of names.slice(1, 3)) {
    await tapeOf(page, name).fill('');
    await tapeOf(page, name).press('Enter');
  }
  await tape(page)
    .getByText(/The photo was off: the wood is 0\.[56]\d*\s% larger/)
    .waitFor();
  const before = (await shared(page)).slab;
  await button(page, 'Move the plan by the tape').click();
  await expect.poll(() => shouldRead(page, 'A to B')).toBeCloseTo(said[0]! * 1.006, 0);
  const after = (await shared(page)).slab;
  const long = ({ faces }: Slab) => Math.max(...faces.top.outline!.outer.map(([x]) => x));
  expect(long(after) / long(before)).toBeGreaterThan(1.004);
  expect(after.tapes).toMatchObject([{ from: 'A', to: 'B' }]);
  await button(page, /^Undo: Move the plan by the tape/).click();
  await expect.poll(() => shouldRead(page, 'A to B')).toBe(said[0]);
});
