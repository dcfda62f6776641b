import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import type { Job } from '../../src/job';
import { frontsOf } from '../../src/leaves';
import { useApp } from '../support/app';
import { leafJobFile } from '../support/leaf-job';
import { sharedJob } from '../support/share';
import { smallTargets } from '../support/targets';

const app = useApp();

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });
const elevation = (page: Page) => page.getByRole('application', { name: 'Elevation of the doors' });
const undo = (page: Page, what: string) => button(page, `Undo: ${what}`);

/** A job opened at its leaves. */
async function opened(leaves: number, viewport = { width: 1280, height: 900 }): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport, hasTouch: viewport.width < 500 });
  await page.getByLabel('Open a job file').setInputFiles({
    name: 'leaves.zip',
    mimeType: 'application/zip',
    buffer: await leafJobFile(leaves),
  });
  await page.getByRole('link', { name: /Leaves/ }).click();
  await button(page, 'Lay the doors out').waitFor();
  return page;
}

const shared = async (page: Page): Promise<Job> => (await sharedJob(page)).job;

const setOf = ({ sets, keptSet }: Job) => sets[keptSet!]!;
const leavesOf = (job: Job, front: string) => setOf(job).fronts[front]!.cells.map(({ leaf }) => leaf);
const backOf = (job: Job, front: string) => setOf(job).fronts[front]!.backer.map(({ leaf }) => leaf);

test('doors are laid on their leaves, checked, exchanged by key, list and hand, backs too, locked, and tried without a leaf; their papers follow', {
  timeout: 60_000,
}, async () => {
  const page = await opened(10);
  await button(page, 'Lay the doors out').click();
  await button(page, 'Lay the doors out again').waitFor({ timeout: 40_000 });
  await page.getByText('3 fronts laid').waitFor();
  await page.getByText('Checked: every piece lies on its own sound wood').waitFor();
  const laid = await shared(page);
  expect(Object.keys(setOf(laid).fronts).sort()).toEqual(
    frontsOf(Object.values(laid.doors))
      .map(({ id }) => id)
      .sort(),
  );

  // By keys: the second front, its first piece, the next leaf of the stack.
  await elevation(page).focus();
  await page.keyboard.press('n');
  await page.keyboard.press('n');
  const chosen = page.getByRole('region', { name: 'Front 2' });
  await chosen.getByRole('img', { name: /^Joint 1 \| 2, 400\smm: / }).waitFor();
  await page.keyboard.press('.');
  await undo(page, 'Exchange a leaf').waitFor();
  const [front] = frontsOf(Object.values(laid.doors)).filter(({ door }) => door.name === 'Doors');
  const exchanged = await shared(page);
  expect(leavesOf(exchanged, front!.id)).not.toEqual(leavesOf(laid, front!.id));
  await undo(page, 'Exchange a leaf').click();
  expect(leavesOf(await shared(page), front!.id)).toEqual(leavesOf(laid, front!.id));

  // Turned round, another leaf is chosen from the list for its back, and its face stays.
  await elevation(page).focus();
  await page.keyboard.press('b');
  const piece = chosen.getByLabel('Piece of the back 1: leaf');
  const own = await piece.inputValue();
  const all = await piece.locator('option').evaluateAll((options) => options.map((one) => one.getAttribute('value')));
  await piece.selectOption(all.find((leaf) => leaf !== own)!);
  await undo(page, 'Exchange a leaf').waitFor();
  const behind = await shared(page);
  expect(backOf(behind, front!.id)).not.toEqual(backOf(laid, front!.id));
  expect(leavesOf(behind, front!.id)).toEqual(leavesOf(laid, front!.id));
  await undo(page, 'Exchange a leaf').click();
  await button(page, 'Face').click();

  // By hand: the second front dragged onto the third.
  const box = (await elevation(page).boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + 0.7 * box.height];
  await page.mouse.move(x - 120, y);
  await page.mouse.down();
  await page.mouse.move(x, y, { steps: 3 });
  await page.mouse.move(x + 120, y, { steps: 3 });
  await page.mouse.up();
  await undo(page, 'Change two fronts').waitFor();
  const swapped = await shared(page);
  expect(leavesOf(swapped, 'door-1-1')).toEqual(leavesOf(laid, 'door-1-2'));
  expect(leavesOf(swapped, 'door-1-2')).toEqual(leavesOf(laid, 'door-1-1'));
  await undo(page, 'Change two fronts').click();

  // A lock holds through a what-if without a leaf of another front; what was tried can be left.
  await page.getByLabel('Keep its leaves when the rest is laid out again').check();
  const locked = await shared(page);
  expect(setOf(locked).locked).toHaveLength(1);
  const other = setOf(locked).fronts['door-2-1']!.cells[0]!.leaf;
  const place = Object.values(locked.boards)[0]!.leaves[other]!.place;
  await button(page, `Without? What if leaf ${place} is spoilt`).click();
  await page
    .getByText(/^Without it (every front can still be had|one front fails|\d+ fronts fail)/)
    .waitFor({ timeout: 40_000 });
  await button(page, 'Make it so').click();
  const without = await shared(page);
  expect(setOf(without).without).toEqual([`board-1 ${other}`]);
  expect(leavesOf(without, setOf(locked).locked[0]!)).toEqual(leavesOf(locked, setOf(locked).locked[0]!));

  await page.getByRole('link', { name: /Cutting map/ }).click();
  for (const sheet of ['Leaf labels: Doors', /^Panel 1\/\d: /, /^Press list/, 'Cores: Doors'])
    await button(page, sheet).first().waitFor();
});

test('fronts are placed in an elevation by hand and by figures; on a phone every target is 44 px', {
  timeout: 30_000,
}, async () => {
  const page = await opened(2, { width: 390, height: 844 });
  expect(await smallTargets(page)).toBe('');
  await page.getByRole('link', { name: /Tops and doors/ }).click();
  await button(page, 'Doors').click();
  const card = page.getByRole('region', { name: 'Doors', exact: true });
  await card.locator('summary', { hasText: 'Where they stand' }).click();
  await card.getByLabel(/^Gap between fronts/).fill('4');
  await page.keyboard.press('Enter');
  await card.getByLabel('Stand them').selectOption('right of');
  await card.getByLabel('which fronts').selectOption({ label: 'Drawer' });
  const { doors } = await shared(page);
  expect(doors['door-1']!.at).toEqual([
    [567, 0],
    [851, 0],
  ]);
  await card.locator('summary', { hasText: 'Rails and stiles' }).click();
  await button(page, 'Panel in a frame').first().click();
  await card.getByText(/Of its panel 160 × 250 are seen; it is cut 178 × 268\./).waitFor();
  expect(await smallTargets(page)).toBe('');
  expect((await shared(page)).doors['door-1']!.frame).toMatchObject({ stile: 60, groove: 10 });
});
