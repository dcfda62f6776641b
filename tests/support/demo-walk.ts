import type { Page } from 'playwright';
import { expect } from 'vitest';
import { Fingers, middleOf } from './by-touch';

/** Long work on two cores. */
const LONG = { timeout: 120_000 };

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });
const undo = (page: Page, what: string | RegExp) =>
  button(page, typeof what === 'string' ? `Undo: ${what}` : what).waitFor(LONG);
/** Seen where photos are: between two parts of the work there is no progress, but there is what is still to be read. */
export const allRead = (page: Page) =>
  expect
    .poll(
      () =>
        page
          .locator('progress')
          .or(button(page, /^Read the/))
          .count(),
      LONG,
    )
    .toBe(0);
const sheet = (page: Page) => page.getByRole('application').first();

/**
 * Does the whole demo job on a phone by touch alone: from the shelf through all stages, at each what it is for, and back. What is dragged
 * is moved by single taps, too.
 * @param look is done wherever a stage, or a part of one, stands as it is worked on
 */
export async function walkDemo(page: Page, look: () => Promise<void>): Promise<void> {
  const fingers = await Fingers.on(page);
  const toStage = async (name: RegExp) => {
    const link = page.getByRole('link', { name });
    await fingers.tap(link);
    await link.and(page.locator('[aria-current=page]')).waitFor();
    await look();
  };
  await fingers.tap(button(page, 'Open the demo job'));

  // Stock: while the second photo is read, a point of the first outline is put right by taps.
  await fingers.tap(button(page, 'Read the 2 photos'));
  await button(page, 'Slab 3').and(page.locator('[aria-pressed=true]')).waitFor(LONG);
  await fingers.tap(button(page, 'Slab 2'));
  await fingers.tap(button(page, 'Outline'));
  const along = page.getByLabel('Along of point 1 (mm)');
  const before = Number(await along.inputValue());
  await fingers.tap(button(page, 'Choose point 1'));
  await fingers.tap(button(page, '10 mm'));
  await fingers.tap(button(page, 'Move right'));
  await expect.poll(async () => Number(await along.inputValue()), LONG).toBeCloseTo(before + 10, 0);
  await look();
  await fingers.tap(button(page, 'Photo'));
  await allRead(page);

  // Two fingers make the photo larger, and one pulls the facts up and down again.
  await fingers.tap(button(page, 'Slab 2'));
  const seen = await sheet(page).screenshot();
  await fingers.pinch(sheet(page), 80, 200);
  expect((await sheet(page).screenshot()).equals(seen)).toBe(false);
  const [x, y] = await middleOf(page.locator('.grip'));
  await fingers.drag([x, y], [x, y - 120]);
  await fingers.tap(button(page, 'Show the drawing'));
  await fingers.tap(button(page, 'Show the facts'));

  await fingers.tap(button(page, 'Defects'));
  await fingers.tap(button(page, 'Next proposal'));
  await fingers.tap(page.getByRole('button', { name: /^Accept (?!the)/ }).first());
  await undo(page, /^Undo: Accept/);
  await look();
  await fingers.tap(button(page, 'Readings'));
  await fingers.type(page.getByRole('form').getByRole('textbox'), '66.5');
  await undo(page, 'Type a reading');
  await fingers.tap(button(page, 'Undo: Type a reading'));
  await fingers.tap(button(page, 'Redo: Type a reading'));
  await undo(page, 'Type a reading');

  await toStage(/Tops and doors/);
  await fingers.type(page.getByLabel('Depth, at most (mm)'), '655');
  await undo(page, /^Undo: Depth/);

  await toStage(/Layout/);
  await fingers.tap(button(page, 'Lay out the tops').first());
  await button(page, 'Keep Plan 1').waitFor(LONG);
  await fingers.tap(button(page, 'Keep Plan 1'));
  await page.getByText('Checked: every piece lies in sound wood').waitFor(LONG);
  await fingers.tap(button(page, 'Slide left'));
  await undo(page, 'Move the joint');
  await look();

  await toStage(/Flattening/);
  await fingers.tap(button(page, 'across'));
  await page.getByRole('img', { name: /the two faces/ }).waitFor(LONG);
  await fingers.tap(button(page, 'Show where pass 1 of the upper face cuts'));

  await toStage(/Keys/);
  const crack = page.getByRole('group', { name: 'Crack', exact: true }).getByRole('button');
  await crack.first().waitFor(LONG);
  for (let i = 0; i < (await crack.count()) && !(await page.getByRole('slider').count()); i++)
    await fingers.tap(crack.nth(i));
  const key = page.getByRole('slider').first();
  const at = async () => Number(await key.getAttribute('aria-valuenow'));
  const first = await at();
  const [kx, ky] = await middleOf(key.locator('polygon'));
  await fingers.drag([kx, ky], [kx + 20, ky]);
  await expect.poll(at, LONG).toBeGreaterThan(first + 2);
  const dragged = await at();
  await fingers.tap(page.getByRole('region', { name: /^Key \d/ }).getByRole('button', { name: 'Slide left' }));
  await expect.poll(at, LONG).toBe(dragged - 1);
  await look();

  await toStage(/Leaves/);
  await page.getByText('Checked: every piece lies on its own sound wood').waitFor(LONG);
  await fingers.tap(button(page, 'Front 1').first());
  const piece = page.getByRole('region', { name: 'Front 1' }).getByLabel('Piece 1: leaf');
  const own = await piece.inputValue();
  const leaves = await piece.locator('option').evaluateAll((all) => all.map((one) => one.getAttribute('value')));
  await fingers.tap(piece);
  // The phone's own list of choices is not the page's.
  await piece.selectOption(leaves.find((leaf) => leaf !== own) ?? null);
  await undo(page, 'Exchange a leaf');
  await look();

  await toStage(/Cutting map/);
  await fingers.tap(button(page, 'Marks and tape'));
  await fingers.tap(button(page, 'Choose mark A'));
  const mark = page.getByLabel('Along of mark A (mm)');
  const from = Number(await mark.inputValue());
  const box = (await sheet(page).boundingBox())!;
  const [mx, my] = [box.x + 0.3 * box.width, box.y + 0.45 * box.height];
  await fingers.tapAt([mx, my]);
  await expect.poll(async () => Number(await mark.inputValue()), LONG).not.toBe(from);
  const tapped = Number(await mark.inputValue());
  await fingers.drag([mx, my], [mx - 30, my]);
  await expect.poll(async () => Number(await mark.inputValue()), LONG).toBeLessThan(tapped);
  const should = page
    .getByRole('row', { name: /^A to B/ })
    .locator('td')
    .first();
  await fingers.type(
    page.getByLabel('The tape from A to B (mm)'),
    String(Number.parseFloat((await should.textContent()) ?? '')),
  );
  await undo(page, /^Undo: .*tape/i);
  await look();
  await fingers.tap(button(page, 'Papers'));
  await button(page, 'Save the PDF').waitFor(LONG);
  await Promise.all([page.waitForEvent('download'), fingers.tap(button(page, 'Save the PDF'))]);

  await fingers.tap(page.getByRole('button', { name: 'Steps', exact: true }));
  await fingers.tap(page.getByRole('region', { name: 'Steps' }).getByRole('button').nth(1));
  await fingers.tap(button(page, /^Redo: ./));
  await page.getByText('Saved here').waitFor();
  await fingers.tap(page.getByRole('link', { name: 'All jobs' }));
  await page.getByRole('link', { name: /North wall counter/ }).waitFor();
}
