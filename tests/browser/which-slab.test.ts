import type { Page } from 'playwright';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { openCv } from '../photo/opencv';
import { ABOVE, FAR, FLOOR, NEAR, SLABS, shootTwoSlabs } from '../photo/two-slabs';
import { useApp } from '../support/app';

/** A photo of two slabs beside each other, a card on each end of both: which is meant is asked. */
const app = useApp();

let photo: Buffer;
beforeAll(async () => {
  const { cv } = await openCv();
  const { width, height, channels, data } = shootTwoSlabs(cv);
  photo = await sharp(data, { raw: { width, height, channels } }).jpeg({ quality: 90 }).toBuffer();
});

async function asked(viewport: { width: number; height: number }): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport });
  await page.getByRole('button', { name: 'New job' }).click();
  await page
    .getByLabel('Add photos of slabs')
    .setInputFiles([{ name: 'two.jpg', mimeType: 'image/jpeg', buffer: photo }]);
  await page.getByRole('region', { name: 'Which slab is meant' }).waitFor({ timeout: 60_000 });
  return page;
}

const sheet = (page: Page) => page.getByRole('application', { name: /^Photo of/ });

/** Waits until the photo is read to the end. */
async function told(page: Page): Promise<void> {
  await page.getByRole('application', { name: /^Drawing of/ }).waitFor({ timeout: 60_000 });
  await expect.poll(() => page.getByRole('progressbar').count(), { timeout: 60_000 }).toBe(0);
  expect(await page.getByRole('alert').first().textContent()).toBe('');
}

/** Where the middle of the drawing, which is the traced slab's, lies in the frame of the cards: mm along and across. */
async function middle(page: Page): Promise<readonly [number, number]> {
  const box = (await page.getByRole('application', { name: /^Drawing of/ }).boundingBox())!;
  await page.mouse.move(box.x + box.width / 2 - 1, box.y + box.height / 2);
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  const text = (await page.getByLabel('At the cross').textContent())!.replaceAll('−', '-');
  const [along, across] = [...text.matchAll(/-?\d+(\.\d+)?/g)].map(([figure]) => Number(figure));
  return [along!, across!];
}

const apart = ([ax, ay]: readonly [number, number], [bx, by]: readonly [number, number]) =>
  Math.hypot(ax - bx, ay - by);

/** Taps a pixel of the photo; the sheet shows it whole and in its middle. */
async function tap(page: Page, [u, v]: readonly [number, number]): Promise<void> {
  const box = (await sheet(page).boundingBox())!;
  const perPx = Math.min(box.width / ABOVE.width, box.height / ABOVE.height) / 1.02;
  const [x, y] = [perPx * (u - ABOVE.width / 2), perPx * (v - ABOVE.height / 2)];
  await page.mouse.click(box.x + box.width / 2 + x, box.y + box.height / 2 + y);
}

test.runIf(process.env.SLOW)(
  'a tap on the photo says which slab is meant; the answer stays with the photo and can be changed',
  async () => {
    const page = await asked({ width: 1280, height: 800 });
    expect(await page.getByRole('alert').first().textContent()).toBe(
      'More than one slab is in this photo. Tap the one you mean.',
    );
    await tap(page, FAR);
    await told(page);
    const first = await middle(page);
    expect(await page.getByRole('region', { name: 'Which slab is meant' }).count()).toBe(0);

    await page.getByText('This photo', { exact: true }).click();
    await page.getByRole('button', { name: 'Read it again' }).click();
    await page.getByRole('progressbar').first().waitFor();
    await told(page);
    expect(apart(await middle(page), first)).toBeLessThan(5);

    // Each slab is as far from the other as they were laid.
    await page.getByText('This photo', { exact: true }).click();
    await page.getByRole('button', { name: 'I meant another slab' }).click();
    await tap(page, NEAR);
    await told(page);
    expect(Math.abs(apart(await middle(page), first) - SLABS.width - SLABS.gap)).toBeLessThan(10);
    // The answer and what was read by it are one step.
    await page.getByRole('button', { name: 'Undo: Read a photo' }).click();
    await expect.poll(async () => apart(await middle(page), first)).toBeLessThan(5);
  },
);

test.runIf(process.env.SLOW)('a tap on the floor is told from one on a slab, and the next one answers', async () => {
  const page = await asked({ width: 1280, height: 800 });
  await tap(page, FLOOR);
  await page.getByRole('alert').filter({ hasText: 'it looks like what the slab lies on' }).waitFor({ timeout: 60_000 });
  await tap(page, NEAR);
  await told(page);
});

test.runIf(process.env.SLOW)('by keys a cross is moved over the photo, and Enter takes the slab under it', async () => {
  const page = await asked({ width: 1280, height: 800 });
  await sheet(page).focus();
  for (let i = 0; i < 5; i++) await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Enter');
  await told(page);
});

test.runIf(process.env.SLOW)(
  'on a phone the question and the photo are seen at once, and a thumb answers',
  async () => {
    const page = await asked({ width: 390, height: 844 });
    const [above, below] = await Promise.all([
      sheet(page).boundingBox(),
      page.getByRole('alert').first().boundingBox(),
    ]);
    expect(above!.y).toBeGreaterThanOrEqual(0);
    expect(below!.y + below!.height).toBeLessThanOrEqual(844);
    await tap(page, NEAR);
    await told(page);
  },
);
