import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { useReadSlab } from '../support/read-slab';

const app = useApp();

const readSlab = useReadSlab(app);
const demoPhoto = { name: 'slab.jpg', mimeType: 'image/jpeg', buffer: readFileSync('demo-images/slab-2.jpg') };

const panel = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const drawing = (page: Page) => page.getByRole('application');
const readout = (page: Page) => page.getByLabel('At the cross');
const undo = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();

/** Where a share of the drawing lies on screen. */
async function spot(page: Page, x: number, y: number): Promise<readonly [number, number]> {
  const box = (await drawing(page).boundingBox())!;
  return [box.x + x * box.width, box.y + y * box.height];
}

/** The millimetres in what is read out, in their order. */
async function figures(page: Page): Promise<number[]> {
  const text = (await readout(page).textContent())!.replaceAll('−', '-');
  return [...text.matchAll(/-?\d+(\.\d+)?/g)].map(([figure]) => Number(figure));
}

test('place and ± are read under the pointer, at a tap and by keys, and a length between two taps', async () => {
  const page = await readSlab();
  await page.mouse.move(...(await spot(page, 0.5, 0.5)));
  await page.mouse.move(...(await spot(page, 0.502, 0.5)));
  const [along, across, sigma] = await figures(page);
  expect(sigma).toBeGreaterThan(0.2);
  expect(sigma).toBeLessThan(20);

  // A tap leaves a cross there; arrow keys carry it on.
  await page.mouse.click(...(await spot(page, 0.502, 0.5)));
  await page.mouse.move(10, 10);
  await drawing(page).focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowDown');
  const moved = await figures(page);
  expect(moved[0]).toBeCloseTo(along! + 1, 0);
  expect(moved[1]).toBeCloseTo(across! + 10, 0);

  // Far from the marks the ± is wider, and where it is over 2 mm the drawing says so.
  await page.getByText('± over 2 mm', { exact: false }).first().waitFor();

  await panel(page, 'Measure');
  await readout(page).getByText('Tap one end.').waitFor();
  await page.mouse.click(...(await spot(page, 0.3, 0.5)));
  await readout(page).getByText('Tap the other end.').waitFor();
  await page.mouse.click(...(await spot(page, 0.7, 0.5)));
  await readout(page).getByText('a to b').waitFor();
  const [length, doubt] = await figures(page);
  // The whole face of 2.5 m with its margin fills the drawing's width: 0.4 of it is about a metre.
  expect(length).toBeGreaterThan(800);
  expect(length).toBeLessThan(1400);
  expect(doubt).toBeGreaterThan(0);
  await drawing(page).focus();
  await page.keyboard.press('Shift+ArrowRight');
  expect((await figures(page))[0]).toBeCloseTo(length! + 10, 0);
  // By keys alone, two ends 400 mm apart; in inches that is 15 3/4.
  await page.keyboard.press('m');
  await page.keyboard.press('m');
  await page.getByRole('button', { name: /^in/ }).click();
  await readout(page)
    .getByText(/15\s?[3¾³]/)
    .first()
    .waitFor();
});

test('layers are hidden and remembered; sapwood, pith and grain are drawn by hand and undone', async () => {
  const page = await readSlab();
  await panel(page, 'Layers');
  const layer = (name: RegExp) => page.getByRole('checkbox', { name });
  await layer(/^Bark/).uncheck();
  await layer(/^Grain/).check();
  await page.getByText('Being read …').waitFor({ state: 'detached', timeout: 60_000 });
  await page.mouse.move(...(await spot(page, 0.4, 0.52)));
  await page.mouse.move(...(await spot(page, 0.403, 0.52)));
  await readout(page)
    .getByText(/grain .*°/)
    .waitFor();

  // Along the grain, by taps.
  await page.getByRole('button', { name: 'Draw along the grain' }).click();
  await page.mouse.click(...(await spot(page, 0.38, 0.48)));
  await page.mouse.click(...(await spot(page, 0.42, 0.56)));
  await page.getByRole('button', { name: 'Done', exact: true }).click();
  await page.mouse.move(...(await spot(page, 0.398, 0.516)));
  await page.mouse.move(...(await spot(page, 0.4, 0.52)));
  const turned = Number((await readout(page).textContent())!.replace('−', '-').match(/grain (-?\d+)/)?.[1]);
  expect(Math.abs(turned)).toBeGreaterThan(15);
  await undo(page, 'Undo: Draw along the grain');
  await page.getByRole('button', { name: 'Edit grain' }).waitFor({ state: 'detached' });

  // The pith by numbers alone.
  await page.getByRole('button', { name: 'Draw the pith' }).click();
  await page.getByRole('button', { name: 'Add a point', exact: true }).click();
  await page.getByRole('button', { name: 'Add a point', exact: true }).click();
  await page.getByRole('button', { name: 'Done', exact: true }).click();
  await page.getByRole('button', { name: 'Edit pith' }).click();
  await page.getByLabel('Along of point 1 (mm)').fill('150');
  await page.getByLabel('Along of point 1 (mm)').press('Enter');
  await page.getByRole('button', { name: 'Undo: Move a point of the pith' }).waitFor();

  // Sapwood where none is: the rest taken out first.
  const rims = page.getByRole('button', { name: /^Take out sapwood/ });
  while ((await rims.count()) > 0) await rims.first().click();
  await page.getByText('No sapwood.').first().waitFor();
  await page.getByRole('button', { name: 'Draw a sapwood edge' }).click();
  await page.mouse.click(...(await spot(page, 0.2, 0.47)));
  await page.mouse.click(...(await spot(page, 0.8, 0.47)));
  await page.getByRole('button', { name: 'Done', exact: true }).click();
  await page.getByRole('button', { name: 'Edit sapwood' }).waitFor();
  await undo(page, 'Undo: Draw a sapwood edge');
  await page.getByText('No sapwood.').first().waitFor();

  await page.getByText('Saved here').waitFor();
  await page.reload();
  await panel(page, 'Layers');
  expect(await layer(/^Bark/).isChecked()).toBe(false);
  expect(await layer(/^Grain/).isChecked()).toBe(true);
  expect(await layer(/^Outline/).isChecked()).toBe(true);
  await page.getByRole('button', { name: 'Edit pith' }).waitFor();
});

test('proposed defects are settled one after the other, by keys and by thumb, and each can be undone', async () => {
  const page = await readSlab({ viewport: { width: 390, height: 844 }, hasTouch: true });
  await panel(page, 'Defects');
  const count = async () =>
    Number((await page.getByRole('heading', { name: /to look at$/ }).textContent())?.match(/\d+/)?.[0]);
  const first = await count();
  expect(first).toBeGreaterThan(3);

  // With a finger, in the bar below the drawing: one tap each, and the next one comes.
  const bar = page.getByRole('group', { name: 'Proposed defects' });
  await bar.getByRole('button', { name: 'Next proposal' }).tap();
  const shown = () => bar.locator('strong').textContent();
  const one = await shown();
  await bar.getByRole('button', { name: 'Accept' }).tap();
  await page.getByText(`${first - 1} left to look at.`).waitFor();
  const two = await shown();
  expect(two).not.toBe(one);
  await bar.getByRole('button', { name: 'Drop' }).tap();
  await page.getByText(`${first - 2} left to look at.`).waitFor();
  expect(await shown()).not.toBe(two);

  // By keys on the drawing.
  await drawing(page).focus();
  await page.keyboard.press('p');
  await page.keyboard.press('n');
  await page.keyboard.press('a');
  await page.keyboard.press('d');
  expect(await count()).toBe(first - 4);
  for (let i = 0; i < 4; i++) await undo(page, /^Undo: (Accept|Drop) /);
  expect(await count()).toBe(first);
  // What was dropped has come back under its own letter.
  await page.getByRole('button', { name: `Drop ${two?.replace(/^(\w+): (.*)$/, '$2 $1')}`, exact: true }).waitFor();

  // Another kind: one tap, and it is settled.
  await bar.getByRole('button', { name: 'Next proposal' }).tap();
  await page
    .getByRole('group', { name: /^What . is$/ })
    .getByRole('button', { name: /^(stain|shake)$/ })
    .tap();
  expect(await count()).toBe(first - 1);

  const sure = page.getByRole('button', { name: /^Accept the .*sure ones?$/ });
  await sure.tap();
  await sure.waitFor({ state: 'detached' });
  await undo(page, 'Undo: Accept the sure defects');
  expect(await count()).toBe(first - 1);

  const small = await page.evaluate(() =>
    [...document.querySelectorAll('button, select, input, summary')]
      .map((e) => ({ e, box: (e.closest('label') ?? e).getBoundingClientRect() }))
      .filter(({ box }) => box.height > 0 && box.height < 43.5)
      .map(({ e }) => e.outerHTML.slice(0, 80)),
  );
  expect(small).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  const tools = await page.evaluate(() => {
    const row = document.querySelector('.sheet-tools')!;
    return [row.scrollWidth <= row.clientWidth, row.getBoundingClientRect().height];
  });
  expect(tools[0]).toBe(true);
  expect(tools[1]).toBeLessThan(90);
});

test.runIf(process.env.SLOW)(
  'both faces are tied by the same two holes, wrong ones are told, and the other face shows through',
  async () => {
    const page = await readSlab();
    await page.getByRole('button', { name: 'Underside' }).click();
    await panel(page, 'Photo');
    await page.getByLabel('Add a photo').setInputFiles(demoPhoto);
    await page.getByRole('button', { name: /^Look at .* defects? that it saw$/ }).waitFor({ timeout: 90_000 });
    await panel(page, 'Defects');
    await page.getByRole('button', { name: 'Tie the faces by two marks' }).click();

    const mark = async (n: number, along: number, across: number) => {
      await page.getByLabel(`Along of point ${n} (mm)`).fill(String(along));
      await page.getByLabel(`Along of point ${n} (mm)`).press('Enter');
      await page.getByLabel(`Across of point ${n} (mm)`).fill(String(across));
      await page.getByLabel(`Across of point ${n} (mm)`).press('Enter');
    };
    // By taps on this face.
    await page.mouse.click(...(await spot(page, 0.2, 0.5)));
    await page.mouse.click(...(await spot(page, 0.8, 0.5)));
    await mark(1, 300, 0);
    await mark(2, 2300, 0);
    await page.getByRole('button', { name: 'Turn to the top face' }).click();
    // By numbers on the other.
    await page.getByRole('button', { name: 'Add a mark by number' }).click();
    await page.getByRole('button', { name: 'Add a mark by number' }).click();
    await mark(1, 300, 0);
    await mark(2, 2350, 0);
    await page.getByRole('alert').filter({ hasText: 'These are not the same two holes.' }).waitFor();
    expect(await page.getByRole('button', { name: 'Tie the faces', exact: true }).count()).toBe(0);
    await mark(2, 2300, 0);
    await page.getByRole('button', { name: 'Tie the faces', exact: true }).click();
    await page.getByText(/^The underside has \d+ defects?, none of them going through/).waitFor();

    // The long crack down the middle runs at the same place on this "underside", which is the same photo turned over.
    const through = page.getByRole('button', { name: 'It is one: through' });
    const pairs = await through.count();
    expect(pairs).toBeGreaterThan(0);
    await through.first().click();
    await page.getByText(/[1-9] of them going through/).waitFor();
    await undo(page, /^Undo: crack . goes through/);
    expect(await through.count()).toBe(pairs);
    await undo(page, 'Undo: Tie the two faces');
    await page.getByRole('button', { name: 'Tie the faces by two marks' }).waitFor();
  },
);
