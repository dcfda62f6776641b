import type { Page } from 'playwright';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { useApp } from '../support/app';
import { Fingers } from '../support/by-touch';
import { keyedJobFile } from '../support/keyed-job';
import { useReadSlab } from '../support/read-slab';
import { PHONE } from '../support/targets';
import { warpedPlan } from '../support/warped-plan';

/**
 * What is dragged, done by single taps (WCAG 2.5.7) and by keys alone, where the walks of the demo job do not come: rods, points, tapes, a string, the line
 * that a blank is looked at along, joints, keys, corners of a top, the outline's tools.
 */

const app = useApp();
const readSlab = useReadSlab(app);
const slow = test.runIf(process.env.SLOW);
const LONG = { timeout: 300_000 };

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });
const sheet = (page: Page) => page.getByRole('application').first();
const number = async (page: Page, label: string) => Number(await page.getByLabel(label, { exact: true }).inputValue());
const press = async (page: Page, ...keys: string[]) => {
  for (const key of keys) await page.keyboard.press(key);
};

let bare: Buffer;
let planned: Buffer;
beforeAll(async () => {
  if (!process.env.SLOW) return;
  bare = await sharp({ create: { width: 1600, height: 1200, channels: 3, background: '#8a7a66' } })
    .jpeg()
    .toBuffer();
  planned = Buffer.from(JSON.stringify(await warpedPlan()));
}, 120_000);

/** Opens a page with a job on a phone, and a person's fingers for it. */
async function opened(name: string, mimeType: string, buffer: Buffer): Promise<[Page, Fingers]> {
  const page = await app.open(PHONE);
  await page.getByLabel('Open a job file').setInputFiles({ name, mimeType, buffer });
  await page.getByLabel('Name of the job').waitFor();
  return [page, await Fingers.on(page)];
}

/** A new job with one photo without cards, whose reference is of that kind. */
async function unmeasured(kind: string): Promise<[Page, Fingers]> {
  const page = await app.open(PHONE);
  const fingers = await Fingers.on(page);
  await fingers.tap(button(page, 'New job'));
  await fingers.tap(button(page, kind));
  await page
    .getByLabel(/^Add (a photo|photos|photos of slabs)$/)
    .first()
    .setInputFiles({ name: 'bare.jpg', mimeType: 'image/jpeg', buffer: bare });
  await page.waitForFunction(() => {
    const canvas = document.querySelector<HTMLCanvasElement>('.sheet-host canvas');
    const middle = canvas?.getContext('2d')?.getImageData(canvas.width / 2, canvas.height / 2, 1, 1).data;
    return (middle?.[3] ?? 0) > 0;
  });
  return [page, fingers];
}

/** Taps a place of the drawing, as shares of its width and height. */
async function tapSheet(page: Page, fingers: Fingers, x: number, y: number): Promise<void> {
  const box = (await sheet(page).boundingBox())!;
  await fingers.tapAt([box.x + x * box.width, box.y + y * box.height]);
}

/** A finger looks for something to take hold of on the drawing. @returns where it is, as shares */
async function feelFor(page: Page, fingers: Fingers): Promise<readonly [number, number]> {
  const said = page.getByText(/^Tap where this .* is to go/);
  for (let y = 0.1; y < 0.95; y += 0.06)
    for (let x = 0.03; x < 0.5; x += 0.06) {
      await tapSheet(page, fingers, x, y);
      if (await said.count()) return [x, y];
    }
  throw new Error('nothing on the drawing can be taken hold of');
}

slow('rods and points on a photo are placed, and put elsewhere, by taps', LONG, async () => {
  const [page, fingers] = await unmeasured('Rods or tapes');
  await tapSheet(page, fingers, 0.25, 0.5);
  await tapSheet(page, fingers, 0.75, 0.5);
  await tapSheet(page, fingers, 0.5, 0.4);
  await tapSheet(page, fingers, 0.5, 0.6);
  await page.getByRole('region', { name: 'Rod 2' }).waitFor();
  await tapSheet(page, fingers, 0.25, 0.5);
  const at = await number(page, 'Photo right (pixels)');
  await tapSheet(page, fingers, 0.35, 0.5);
  await expect.poll(() => number(page, 'Photo right (pixels)')).toBeGreaterThan(at + 50);
  // It was put down: the next tap begins another rod.
  await tapSheet(page, fingers, 0.3, 0.65);
  await page.getByRole('region', { name: 'Rod 3' }).waitFor();

  const [hand, finger] = await unmeasured('Points I measured');
  for (const [x, y] of [
    [0.2, 0.4],
    [0.8, 0.4],
    [0.8, 0.6],
    [0.2, 0.6],
  ] as const)
    await tapSheet(hand, finger, x, y);
  const from = await number(hand, 'Point 1, pixels from the left');
  await tapSheet(hand, finger, 0.2, 0.4);
  await tapSheet(hand, finger, 0.3, 0.4);
  await expect.poll(() => number(hand, 'Point 1, pixels from the left')).toBeGreaterThan(from + 50);
  expect(await hand.getByLabel(/^Point \d, along/).count()).toBe(4);
});

slow('rods and points on a photo are placed and moved by keys', LONG, async () => {
  const [page] = await unmeasured('Rods or tapes');
  await button(page, 'Add a rod').focus();
  await press(page, 'Enter');
  await page.getByRole('region', { name: 'Rod 1' }).waitFor();
  const at = await number(page, 'Photo right (pixels)');
  await sheet(page).focus();
  await press(page, 'n', 'Shift+ArrowLeft', 'ArrowLeft');
  await press(page, 'p', 'Shift+ArrowRight', 'ArrowRight');
  await expect.poll(() => number(page, 'Photo right (pixels)')).toBe(at + 11);

  const [hand] = await unmeasured('Points I measured');
  await button(hand, 'Add a point').focus();
  await press(hand, 'Enter');
  const from = await number(hand, 'Point 1, pixels from the left');
  await sheet(hand).focus();
  await press(hand, 'ArrowRight');
  await expect.poll(() => number(hand, 'Point 1, pixels from the left')).toBe(from + 1);
});

slow(
  'ends of a tape are put, moved, and the outline is drawn, smoothed and scribbled by taps and by keys',
  LONG,
  async () => {
    const page = await readSlab(PHONE);
    const fingers = await Fingers.on(page);
    await fingers.tap(button(page, 'Photo'));
    await fingers.tap(button(page, 'Add a tape check'));
    await tapSheet(page, fingers, 0.3, 0.5);
    const end = 'End a, photo right (pixels)';
    const at = await number(page, end);
    await tapSheet(page, fingers, 0.7, 0.5);
    await tapSheet(page, fingers, 0.4, 0.5);
    await expect.poll(() => number(page, end)).not.toBe(at);
    const tapped = await number(page, end);
    await sheet(page).focus();
    await press(page, 'Shift+ArrowRight');
    await expect.poll(() => number(page, end)).not.toBe(tapped);
    await fingers.tap(button(page, 'Leave'));

    await fingers.tap(button(page, 'Outline'));
    const undone = async (what: string | RegExp) => {
      const undo = button(page, what);
      await undo.waitFor({ timeout: 60_000 });
      await fingers.tap(undo);
    };
    await fingers.tap(button(page, 'Choose point 1'));
    await fingers.tap(button(page, 'Smooth'));
    await fingers.tap(button(page, 'Smooth around this point'));
    await undone(/^Undo: Smooth/);
    await fingers.tap(button(page, 'Scribble'));
    await tapSheet(page, fingers, 0.4, 0.5);
    await tapSheet(page, fingers, 0.6, 0.5);
    await undone(/^Undo: Scribble/);
    await fingers.tap(button(page, 'Follow'));
    // The first tap begins on the outline, the next one leads the line on.
    await tapSheet(page, fingers, 0.35, 0.4);
    await tapSheet(page, fingers, 0.6, 0.5);
    await expect.poll(() => button(page, 'Join the outline').isEnabled(), { timeout: 60_000 }).toBe(true);
    await fingers.tap(button(page, 'Join the outline'));
    await undone('Undo: Follow the edge');
  },
);

slow('a string is tapped, and a point of it put elsewhere by taps and by keys', LONG, async () => {
  const [page, fingers] = await opened('keyed.zip', 'application/zip', await keyedJobFile());
  await fingers.tap(button(page, 'Readings'));
  await fingers.tap(page.getByText('A string, photographed'));
  await page
    .getByLabel('Open the photo of the string')
    .setInputFiles([{ name: 's.jpg', mimeType: 'image/jpeg', buffer: bare }]);
  await page.getByRole('application', { name: /string before the edge/ }).waitFor();
  for (const [x, y] of [
    [0.2, 0.65],
    [0.8, 0.65],
    [0.1, 0.4],
    [0.9, 0.4],
    [0.3, 0.44],
    [0.5, 0.45],
    [0.7, 0.44],
  ] as const)
    await tapSheet(page, fingers, x, y);
  const bow = page.getByText(/Bow over the whole slab/);
  const first = await bow.textContent();
  await tapSheet(page, fingers, 0.5, 0.45);
  await tapSheet(page, fingers, 0.55, 0.55);
  await expect.poll(() => bow.textContent()).not.toBe(first);
  const second = await bow.textContent();
  // It was put down: the next tap is one more place of the edge.
  await page.getByText("the slab's edge, place 4").waitFor();
  await sheet(page).focus();
  await press(page, 'p', 'Shift+ArrowUp', 'Shift+ArrowUp', 'Shift+ArrowUp');
  await expect.poll(() => bow.textContent()).not.toBe(second);
});

slow('a blank is looked at along any line, and a joint is moved, turned and slid, by taps', LONG, async () => {
  const [page, fingers] = await opened('job.json', 'application/json', planned);
  await fingers.tap(page.getByRole('link', { name: /Flattening/ }));
  const caption = page.locator('.blank-section figcaption');
  await caption.getByText(/long\. Heights/).waitFor({ timeout: 60_000 });
  const [x, y] = await feelFor(page, fingers);
  const was = await caption.textContent();
  await tapSheet(page, fingers, x + 0.3, y + 0.15);
  await expect.poll(() => caption.textContent()).not.toBe(was);
  expect(await page.getByText(/^Tap where this end/).count()).toBe(0);

  await fingers.tap(page.getByRole('link', { name: /Layout/ }));
  await page.getByText('Checked: every piece lies in sound wood').waitFor({ timeout: 60_000 });
  for (const move of ['To the front', 'To the back', 'Slide left', 'Slide right', 'Turn left', 'Turn right']) {
    await fingers.tap(button(page, move));
    await button(page, 'Undo: Move the joint').waitFor({ timeout: 60_000 });
    await fingers.tap(button(page, 'Undo: Move the joint'));
    await button(page, 'Undo: Move the joint').waitFor({ state: 'detached' });
  }
});

slow(
  'keys are set on a crack by taps and by keys; a hole of a top is put elsewhere by taps and by keys',
  LONG,
  async () => {
    const [page, fingers] = await opened('keyed.zip', 'application/zip', await keyedJobFile());
    await fingers.tap(page.getByRole('link', { name: /Keys/ }));
    const key = page.getByRole('slider', { name: 'Key 1, from the left tip', exact: true });
    await key.waitFor();
    const along = async () => Number(await key.getAttribute('aria-valuenow'));
    await fingers.tap(button(page, 'Key 1'));
    const card = page.getByRole('region', { name: 'Key 1', exact: true });
    const first = await along();
    await fingers.tap(card.getByRole('button', { name: 'Slide right' }));
    await expect.poll(along).toBe(first + 1);
    await fingers.tap(card.getByRole('button', { name: 'Turn left' }));
    await button(page, 'Undo: Turn a key').waitFor();
    const keys = page.getByRole('slider');
    const count = await keys.count();
    await fingers.tap(card.getByRole('button', { name: 'Drop it' }));
    await expect.poll(() => keys.count()).toBe(count - 1);

    await sheet(page).focus();
    await press(page, 'n', 't');
    await button(page, 'Undo: Turn a key').waitFor();
    await press(page, 's');
    await button(page, 'Undo: Another size of key').waitFor();
    await press(page, 'Escape', 'a');
    await button(page, 'Undo: Add a key').waitFor();
    await press(page, 'Delete');
    await button(page, 'Undo: Drop a key').waitFor();

    await fingers.tap(page.getByRole('link', { name: /Tops and doors/ }));
    await fingers.tap(page.locator('summary', { hasText: 'Hidden parts, seams and holes' }));
    await fingers.tap(button(page, 'Add a hole'));
    const left = 'From the left-hand end (mm)';
    const from = await number(page, left);
    const [x, y] = await feelFor(page, fingers);
    await tapSheet(page, fingers, x + 0.2, y);
    await expect.poll(() => number(page, left)).not.toBe(from);
    const tapped = await number(page, left);
    await sheet(page).focus();
    await press(page, 'n', 'ArrowRight');
    await expect.poll(() => number(page, left)).toBe(tapped + 1);
  },
);
