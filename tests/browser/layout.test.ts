import type { Page } from 'playwright';
import { beforeAll, expect, test } from 'vitest';
import type { Job, Placement } from '../../src/job';
import { useApp } from '../support/app';
import { drawnJobFile } from '../support/drawn-job';
import { sharedJob } from '../support/share';

const app = useApp();

const LONG = { timeout: 60_000 };
const COUNTER = { name: 'Counter', length: 900, depth: [590, 640], thickness: 34, seams: 1, leastStrip: 100 } as const;
/** Two slabs of one log, neither as deep as the counter; what the first test lays out, the others open. */
const HEIGHTS = [90, 150];

let laid: Buffer;
beforeAll(async () => {
  const page = await opened(await jobFile({}));
  await button(page, 'Lay out the tops').click();
  await known(page);
  laid = (await sharedJob(page)).bytes;
}, 120_000);

const jobFile = (change: { length?: number }) =>
  drawnJobFile(HEIGHTS, { ...COUNTER, depth: [...COUNTER.depth], ...change });
const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });
const top = (page: Page) => page.getByRole('application', { name: /the finished top|Drawing of the blanks/ });
const slabs = (page: Page) => page.getByRole('application', { name: /^Drawing of the slabs/ });
const undo = (page: Page) => button(page, 'Undo: Move the joint');

/** A job file opened at its layout. */
async function opened(bytes: Buffer): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
  const file = { name: 'drawn.zip', mimeType: 'application/zip', buffer: bytes };
  await page.getByLabel('Open a job file').setInputFiles(file);
  await page.getByRole('link', { name: /Layout/ }).click();
  return page;
}

/** Waits until the plan in view is drawn and its seam was looked along. */
const known = (page: Page) => page.getByRole('heading', { name: 'Along the seam, from the left' }).waitFor(LONG);

async function laidOut(): Promise<Page> {
  const page = await opened(laid);
  await known(page);
  return page;
}

const counterOf = ({ plans }: Job): Placement => Object.values(plans)[0]!.placements['top-1']!;

/** How a strip's joint line lies on its slab: its middle and its direction. */
function jointOf({ strips }: Placement, i: number) {
  const [a, b] = (strips[i]!.jointBack ?? strips[i]!.jointFront)!;
  const degrees = (Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI;
  return { middle: [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2] as const, degrees };
}

/** Pixels of a sheet's drawing in the colour of a joint. */
const redOf = (page: Page, label: RegExp): Promise<number> =>
  page
    .getByRole('application', { name: label })
    .locator('canvas')
    .first()
    .evaluate((canvas: HTMLCanvasElement) => {
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
      let red = 0;
      for (let i = 0; i < data.length; i += 4) if (data[i]! > 140 && data[i + 1]! < 60 && data[i + 2]! < 60) red++;
      return red;
    });

test('S hides the seam on the finished top and shows it again; R changes to the rough blanks and back', async () => {
  const page = await laidOut();
  const seam = button(page, 'Seam');
  const finished = /the finished top/;
  await expect.poll(() => redOf(page, finished)).toBeGreaterThan(500);
  await top(page).focus();
  await page.keyboard.press('s');
  await expect.poll(() => redOf(page, finished)).toBe(0);
  expect(await seam.getAttribute('aria-pressed')).toBe('false');
  // From the slabs, too.
  await slabs(page).focus();
  await page.keyboard.press('s');
  await expect.poll(() => redOf(page, finished)).toBeGreaterThan(500);
  await top(page).focus();
  await page.keyboard.press('r');
  await page.getByRole('application', { name: 'Drawing of the blanks of Plan 1' }).waitFor();
  expect(await button(page, 'Rough').getAttribute('aria-pressed')).toBe('true');
  await page.keyboard.press('r');
  await page.getByRole('application', { name: finished }).waitFor();
});

test('a joint is moved, turned and slid by keys, each as one step, by as much as the keys say', {
  timeout: 60_000,
}, async () => {
  const page = await laidOut();
  const before = counterOf((await sharedJob(page)).job);
  await slabs(page).focus();
  // The points of the first joint line: the one that moves it, the one that turns it, the one that slides its slab.
  const after: Placement[] = [];
  for (const key of ['ArrowUp', 'ArrowUp', 'ArrowLeft']) {
    await page.keyboard.press('n');
    await page.keyboard.press(key);
    await undo(page).waitFor(LONG);
    await known(page);
    after.push(counterOf((await sharedJob(page)).job));
    await undo(page).click();
    await known(page);
    await slabs(page).focus();
  }
  const [moved, turned, slid] = after as [Placement, Placement, Placement];
  const was = jointOf(before, 0);
  const gone = (placement: Placement) =>
    Math.hypot(...jointOf(placement, 0).middle.map((v, i) => v - was.middle[i as 0 | 1]));
  // 1 mm square to the joint, which runs along the slab within a few degrees.
  expect(gone(moved)).toBeGreaterThan(0.9);
  expect(gone(moved)).toBeLessThan(1.1);
  expect(jointOf(moved, 0).degrees).toBeCloseTo(was.degrees, 6);
  expect(Math.abs(jointOf(turned, 0).degrees - was.degrees)).toBeGreaterThan(0.05);
  expect(jointOf(slid, 0).degrees).toBeCloseTo(was.degrees, 6);
  // The other slab stays as it is but where it slides along.
  expect(jointOf(moved, 1).degrees).toBeCloseTo(jointOf(before, 1).degrees, 6);
  expect(slid.joints[0]!.slide).not.toBe(before.joints[0]!.slide);
});

/** Where the chosen point of a sheet lies on the page: what changes on the canvas as it is chosen. */
async function chosenPoint(page: Page): Promise<{ x: number; y: number }> {
  const canvas = slabs(page).locator('canvas').first();
  await slabs(page).focus();
  const before = await canvas.evaluateHandle((element: HTMLCanvasElement) =>
    element.getContext('2d')!.getImageData(0, 0, element.width, element.height),
  );
  await page.keyboard.press('n');
  const middle = () =>
    canvas.evaluate((element: HTMLCanvasElement, was: ImageData) => {
      const { width, height, data } = element.getContext('2d')!.getImageData(0, 0, element.width, element.height);
      let [minX, minY, maxX, maxY] = [width, height, -1, -1];
      for (let i = 0; i < data.length; i += 4) {
        if (data[i] === was.data[i]) continue;
        const [x, y] = [(i / 4) % width, Math.floor(i / 4 / width)];
        [minX, minY, maxX, maxY] = [Math.min(minX, x), Math.min(minY, y), Math.max(maxX, x), Math.max(maxY, y)];
      }
      return maxX < 0 ? null : { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
    }, before);
  await expect.poll(middle).not.toBeNull();
  const at = (await middle())!;
  const box = (await canvas.boundingBox())!;
  return { x: box.x + at.x, y: box.y + at.y };
}

test.runIf(process.env.SLOW)(
  'a joint follows the pointer, what is said of it too, and it stays where it is dropped',
  {
    timeout: 60_000,
  },
  async () => {
    const page = await laidOut();
    const before = counterOf((await sharedJob(page)).job);
    const facts = page.getByRole('group', { name: 'Joint of Counter' });
    const shown = await facts.textContent();
    const { x, y } = await chosenPoint(page);
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (const up of [2, 4, 6]) await page.mouse.move(x, y - up);
    await page.locator('.drag-says').waitFor(LONG);
    expect(await page.locator('.drag-says').textContent()).toMatch(/^The seam |cannot|leave|outside|thin|deep|narrow/);
    // The words beside the drawing are those of where the hand is, before anything is dropped.
    await expect.poll(() => facts.textContent(), LONG).not.toBe(shown);
    expect(await undo(page).count()).toBe(0);
    await page.mouse.up();
    await undo(page).waitFor(LONG);
    const after = counterOf((await sharedJob(page)).job);
    const [was, is] = [jointOf(before, 0), jointOf(after, 0)];
    const perPx = Math.hypot(is.middle[0] - was.middle[0], is.middle[1] - was.middle[1]) / 6;
    // Slabs 1.1 m long stand on some 200 px.
    expect(perPx).toBeGreaterThan(2);
    expect(perPx).toBeLessThan(10);
  },
);

test('a locked top stays to the letter when the rest is laid out again', { timeout: 60_000 }, async () => {
  const page = await laidOut();
  await page.getByLabel(/^Locked/).check();
  const before = (await sharedJob(page)).job;
  await page
    .getByRole('button', { name: /^Plan 2/ })
    .first()
    .click();
  await button(page, 'Keep Plan 2').click();
  await button(page, 'Lay out again').click();
  await button(page, 'Lay out again').waitFor(LONG);
  await known(page);
  expect(await page.getByLabel(/^Locked/).isChecked()).toBe(true);
  const { job } = await sharedJob(page);
  for (const { placements } of Object.values(job.plans)) expect(placements['top-1']).toEqual(counterOf(before));

  // What was kept before stands beside what came since, until it is brought back.
  await page
    .getByRole('group', { name: /^Beside/ })
    .getByText('Plan 2 kept before')
    .click();
  const both = page.getByRole('region', { name: /beside Plan 2 kept before$/ });
  expect(await both.getByRole('img').count()).toBe(2);
  await both.getByRole('row', { name: /^tops had/ }).waitFor();
  await button(page, 'Undo: Lay out the tops').click();
  await both.waitFor({ state: 'detached' });
});

test('two plans stand side by side, with what the other one gives up and gains', async () => {
  const page = await laidOut();
  const card = page.getByRole('button', { name: /^Plan 2/ }).first();
  const said = await card.textContent();
  await page.getByRole('group', { name: 'Beside Plan 1' }).getByText('Plan 2', { exact: true }).click();
  const both = page.getByRole('region', { name: 'Plan 1 beside Plan 2' });
  await both.waitFor();
  expect(await both.getByRole('img').count()).toBe(2);
  const words = (await both.getByText(/^Plan 2 against Plan 1: /).textContent())!.replace(
    'Plan 2 against Plan 1: ',
    '',
  );
  expect(words).toMatch(/^(Gives up|Gains|As good)/);
  // What each gives up is in its own column.
  const gives = await both
    .getByRole('row', { name: /^gives up/ })
    .getByRole('cell')
    .allTextContents();
  expect(gives[1]).toBe(/^Gives up: (.*?)\.( Gains|$)/.exec(words)?.[1] ?? 'nothing');
  // Its card says the same.
  expect(said).toContain(words);
  await page.getByRole('group', { name: 'Beside Plan 1' }).getByText('alone', { exact: true }).click();
  await slabs(page).waitFor();
});

test('without one of its slabs the counter cannot be had, the plan in view stays, and the trial is left again', {
  timeout: 60_000,
}, async () => {
  const page = await laidOut();
  const { job } = await sharedJob(page);
  await page.locator('summary', { hasText: 'What if' }).click();
  await button(page, 'Without Slab 2').click();
  const both = page.getByRole('region', { name: 'Plan 1 beside Without Slab 2' });
  await both.waitFor(LONG);
  await both.getByText('No top is had.').waitFor();
  // In its column, and in the sentence below.
  expect(await both.getByText(/Counter is not had/).count()).toBe(2);
  await button(page, 'Leave it').click();
  await slabs(page).waitFor();
  expect((await sharedJob(page)).job.plans).toEqual(job.plans);
});

test('where no top comes out of the slabs it is said once, in the place of the drawing, and nothing is called checked', {
  timeout: 60_000,
}, async () => {
  const page = await opened(await jobFile({ length: 1400 }));
  await button(page, 'Lay out the tops').click();
  await page.getByText('The top cannot be had from these slabs.').waitFor(LONG);
  expect(await page.getByText(/^Counter: the longest slab gives/).count()).toBe(1);
  expect(await page.getByText('Checked:').count()).toBe(0);
  expect(await page.getByRole('application').count()).toBe(0);
  await button(page, 'Change what is wanted').click();
  await page.getByRole('button', { name: 'Add a top' }).first().waitFor();
});
