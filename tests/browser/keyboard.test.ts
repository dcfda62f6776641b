import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { Keys } from '../support/by-keys';
import { allRead } from '../support/demo-walk';

const app = useApp();

/** Long work on two cores. */
const LONG = { timeout: 120_000 };

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });
const stage = (page: Page, name: RegExp) => page.getByRole('link', { name });
const undo = (page: Page, what: RegExp | string) =>
  button(page, typeof what === 'string' ? `Undo: ${what}` : new RegExp(`^Undo: ${what.source}`)).waitFor(LONG);

/** As a person would do it who has no mouse, and hears what goes on: from the shelf through all stages and back. */
test.runIf(process.env.SLOW)(
  'the whole demo job by keys alone: the focus is always seen, never lost and never trapped, and long work is heard',
  {
    timeout: 480_000,
  },
  async () => {
    const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 800 } });
    const keys = new Keys(page);
    const heard = await ears(page);
    await keys.press(button(page, 'Open the demo job'));
    await page.getByLabel('Name of the job').waitFor();

    // Stock: while the second photo is read, a point of the first outline is put right.
    await keys.press(button(page, 'Read the 2 photos'));
    await button(page, 'Slab 3').and(page.locator('[aria-pressed=true]')).waitFor(LONG);
    await keys.press(button(page, 'Slab 2'));
    await keys.press(button(page, 'Outline'));
    const along = page.getByLabel('Along of point 1 (mm)');
    const before = Number(await along.inputValue());
    await keys.press(page.getByRole('application'), 'n', 'Shift+ArrowRight');
    await expect.poll(async () => Number(await along.inputValue()), LONG).toBeCloseTo(before + 10, 0);
    await keys.press(button(page, 'Photo'));
    await allRead(page);
    expect(heard()).toMatch(/Reading the photo ….*Reading the photo: \d+ %.*Photo read: outline traced/s);
    await keys.press(button(page, 'Slab 2'));
    await keys.press(button(page, 'Defects'));
    await keys.press(page.getByRole('application'), 'n', 'a');
    await undo(page, /Accept/);
    // What is next is open already.
    const permit = page.getByLabel('In the work it');
    await keys.press(permit, (await permit.inputValue()) === 'avoid' ? 'ArrowDown' : 'ArrowUp');
    await undo(page, /What .* permits/);
    await keys.press(button(page, 'Readings'));
    await keys.type(page.getByRole('form').getByRole('textbox'), '66.5');
    await undo(page, 'Type a reading');
    await keys.key('Control+z');
    await undo(page, /What .* permits/);
    await keys.key('Control+Shift+z');

    await keys.press(stage(page, /Tops and doors/));
    await keys.type(page.getByLabel('Depth, at most (mm)'), '655');
    await undo(page, /./);

    await keys.press(stage(page, /Layout/));
    await keys.press(button(page, 'Lay out the tops').first());
    await button(page, 'Keep Plan 1').waitFor(LONG);
    expect(heard()).toMatch(/Laying out the tops ….*Laying out the tops: \d+ %.*plans? (was|were) found/s);
    await keys.press(page.getByRole('button', { name: /^Plan 1/ }));
    await keys.press(button(page, 'Keep Plan 1'));
    await page.getByText('Checked: every piece lies in sound wood').waitFor(LONG);
    await keys.press(button(page, 'Slide left'));
    await undo(page, 'Move the joint');

    await keys.press(stage(page, /Flattening/));
    await keys.press(button(page, 'across'));
    await page.getByRole('img', { name: /the two faces/ }).waitFor(LONG);
    await keys.press(button(page, 'Show where pass 1 of the upper face cuts'));

    await keys.press(stage(page, /Keys/));
    const crack = page.getByRole('group', { name: 'Crack', exact: true }).getByRole('button');
    await crack.first().waitFor(LONG);
    for (let i = 0; i < (await crack.count()) && !(await page.getByRole('slider').count()); i++)
      await keys.press(crack.nth(i));
    const key = page.getByRole('slider').first();
    const at = Number(await key.getAttribute('aria-valuenow'));
    await keys.press(key, 'ArrowRight');
    await undo(page, 'Slide a key');
    expect(Number(await key.getAttribute('aria-valuenow'))).toBe(at + 1);

    await keys.press(stage(page, /Leaves/));
    const elevation = page.getByRole('application', { name: 'Elevation of the doors' });
    await page.getByText('Checked: every piece lies on its own sound wood').waitFor(LONG);
    await keys.press(elevation, 'n', '.');
    await undo(page, 'Exchange a leaf');

    await keys.press(stage(page, /Cutting map/));
    await keys.press(button(page, 'Marks and tape'));
    await keys.press(page.getByRole('application'), 'n', 'ArrowRight');
    await undo(page, 'Set mark A');
    const tape = page.getByLabel('The tape from A to B (mm)');
    const should = page
      .getByRole('row', { name: /^A to B/ })
      .locator('td')
      .first();
    await keys.type(tape, String(Number.parseFloat((await should.textContent()) ?? '')));
    await undo(page, /./);
    await keys.press(button(page, 'Papers'));
    await button(page, 'Save the PDF').waitFor(LONG);
    expect(heard()).toMatch(/Drawing the cutting map ….*\d+ sheets are drawn/s);
    await Promise.all([page.waitForEvent('download'), keys.press(button(page, 'Save the PDF'))]);

    // All steps by name, in a list that Escape closes; then back to the shelf.
    const steps = page.getByRole('button', { name: 'Steps', exact: true });
    await keys.press(steps);
    await keys.press(page.getByRole('region', { name: 'Steps' }).getByRole('button').nth(1));
    await button(page, /^Redo: ./).waitFor();
    await keys.press(button(page, /^Redo: ./));
    await keys.press(steps);
    await keys.key('Escape');
    expect(await steps.evaluate((element) => element === document.activeElement)).toBe(true);
    await page.getByText('Saved here').waitFor();
    await keys.press(page.getByRole('link', { name: 'All jobs' }));
    await keys.press(page.getByRole('button', { name: 'Duplicate North wall counter' }));
    await page.getByRole('link', { name: /North wall counter \(copy\)/ }).waitFor();
    await keys.press(page.getByRole('button', { name: /^Remove .*copy/ }));
    await keys.press(button(page, 'Keep it'));
  },
);

/** What was said to those who listen, a line each. */
async function ears(page: Page): Promise<() => string> {
  const lines: string[] = [];
  await page.exposeFunction('hears', (line: string) => lines.push(line));
  await page.evaluate(() => {
    for (const region of document.querySelectorAll('#app > [role=status]'))
      new MutationObserver(() => Reflect.get(window, 'hears')(region.textContent)).observe(region, {
        subtree: true,
        childList: true,
        characterData: true,
      });
  });
  return () => lines.join('\n');
}
