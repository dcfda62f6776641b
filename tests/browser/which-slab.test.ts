import type { Page } from 'playwright';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { type FacePicture, rasterOf } from '../../src/raster';
import { cardsAt, type Place } from '../photo/drawn-ends';
import { openCv } from '../photo/opencv';
import type { Eye } from '../photo/scene';
import { shoot } from '../photo/two-shots';
import { useApp } from '../support/app';

/** A photo that shows two slabs of one wood beside each other, a card on each end of both: which is meant is asked. */
const app = useApp();
const [LENGTH, WIDTH, GAP] = [1100, 260, 70];

/** Cards on both slabs: nothing tells which is meant. */
const CARDS: readonly Place[] = [
  [0, 140, -(GAP + WIDTH) / 2, 10],
  [1, 960, -(GAP + WIDTH) / 2 + 20, 70],
  [2, 150, (GAP + WIDTH) / 2, -20],
  [3, 950, (GAP + WIDTH) / 2 - 15, 35],
];
const ABOVE: Eye = {
  width: 1600,
  height: 1200,
  focal: 1250,
  k1: -0.03,
  k2: 0,
  at: [LENGTH / 2, 0],
  distance: 1150,
  pitch: 4,
  yaw: -3,
  roll: 1,
};

function twoSlabs(): FacePicture {
  const height = 2 * WIDTH + GAP;
  const data = new Uint8ClampedArray(LENGTH * height * 4);
  for (let r = 0; r < height; r++) {
    if (r >= WIDTH && r < WIDTH + GAP) continue;
    for (let c = 0; c < LENGTH; c++) {
      const ring = r + 20 * Math.sin(c / 210 + (r > WIDTH ? 2 : 0));
      const figure = 12 * Math.sin(ring / 2.1) + 8 * Math.sin(ring / 5.3);
      data.set([120 + figure, 84 + figure, 56 + figure, 255], 4 * (r * LENGTH + c));
    }
  }
  return { raster: rasterOf(LENGTH, height, 4, data), mmPerPx: 1, x0: 0, y0: -height / 2 };
}

let photo: Buffer;
beforeAll(async () => {
  const { cv } = await openCv();
  const { width, height, channels, data } = shoot(ABOVE, { face: twoSlabs(), cards: cardsAt(cv, CARDS) });
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

const told = (page: Page) =>
  page
    .getByText(/^Photo read: outline traced/)
    .first()
    .waitFor({ timeout: 60_000, state: 'attached' });

test('a tap on the photo says which slab is meant; the answer stays with the photo', async () => {
  const page = await asked({ width: 1280, height: 800 });
  expect(await page.getByRole('alert').textContent()).toMatch(/2 pieces of wood.*Tap the one that you mean/);
  const sheet = page.getByRole('application', { name: /^Photo of/ });
  const box = await sheet.boundingBox();
  if (!box) throw new Error('The photo is drawn.');
  // The photo stands in the sheet's middle: a little above it lies the slab farther from the viewer.
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2 - box.height / 8);
  await told(page);
  expect(await page.getByRole('region', { name: 'Which slab is meant' }).count()).toBe(0);
  await page.getByText('Saved here').waitFor();
  await page.getByText('This photo', { exact: true }).click();
  await page.getByRole('button', { name: 'Read it again' }).click();
  await page.getByRole('progressbar').first().waitFor();
  await expect.poll(() => page.getByRole('progressbar').count(), { timeout: 60_000 }).toBe(0);
  expect(await page.getByRole('alert').textContent()).toBe('');
});

test('who does not tap types where it lies, on a phone, too', async () => {
  const page = await asked({ width: 390, height: 844 });
  await page.getByText('Without tapping').click();
  await page.getByLabel('From the top').fill('65');
  await page.getByRole('button', { name: 'Read the slab that lies there' }).click();
  await told(page);
});
