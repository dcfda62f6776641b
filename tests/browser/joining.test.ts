import type { Page } from 'playwright';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { cardsAt, LEFT, PLACES, RIGHT, woodFace } from '../photo/drawn-ends';
import { openCv } from '../photo/opencv';
import type { Eye } from '../photo/scene';
import { shoot } from '../photo/two-shots';
import { useApp } from '../support/app';

const app = useApp();

/** A slab 1.6 m long in two drawn photos, which share two cards, and an end of another slab under the same cards. */
let left: Buffer;
let right: Buffer;
let other: Buffer;

beforeAll(async () => {
  const { cv } = await openCv();
  const cards = cardsAt(cv, PLACES);
  const photo = (eye: Eye, seed: number) => {
    const { width, height, channels, data } = shoot(eye, { face: woodFace(seed), cards });
    return sharp(data, { raw: { width, height, channels } }).jpeg({ quality: 90 }).toBuffer();
  };
  [left, right, other] = await Promise.all([photo(LEFT, 1), photo(RIGHT, 1), photo(RIGHT, 2.3)]);
});

async function newJob(): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 800 } });
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByLabel('Name of the job').waitFor();
  return page;
}

const files = (...buffers: Buffer[]) =>
  buffers.map((buffer, i) => ({ name: `${i}.jpg`, mimeType: 'image/jpeg', buffer }));

const seen = (page: Page, text: string) => page.getByText(text).first().waitFor({ timeout: 60_000 });

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).click();

/** Where the slab goes on beyond what was seen of it is said on the drawing; here it is read off what was announced. */
const runsOut = /The slab runs out of the picture/;

test.runIf(process.env.SLOW)(
  'two photos of one slab become one face; undo, a reload and taking one out leave it whole',
  async () => {
    const page = await newJob();
    await page.getByLabel('Add photos of slabs').setInputFiles(files(left, right));
    await seen(page, 'The first two show the same marks, and lie beside each other.');
    await press(page, 'Parts of one face');
    await seen(page, '2 photos joined: their marks lie on each other within');
    expect(await page.getByText(runsOut).count()).toBe(0);
    const list = page.getByRole('region', { name: 'Photos of this face' });
    expect(await list.getByText('part of this face').count()).toBe(2);
    await press(page, 'Undo: Join photos');
    await list.getByText('not joined yet').waitFor();
    await press(page, /^Redo: Join photos/);
    await expect.poll(() => list.getByText('part of this face').count()).toBe(2);
    await page.getByText('Saved here').waitFor();
    await page.reload();
    await expect.poll(() => list.getByText('part of this face').count()).toBe(2);
    await press(page, 'Look at photo 1');
    await page.getByRole('application', { name: /^Photo of/ }).waitFor();
    await press(page, 'Take out photo 1');
    await page.getByText(runsOut).waitFor({ timeout: 60_000 });
    expect(await list.count()).toBe(0);
    // Taking it out and reading what is left is one step.
    await press(page, 'Undo: Take out a photo');
    await expect.poll(() => list.getByText('part of this face').count()).toBe(2);
    await page.getByRole('button', { name: 'Undo: Join photos' }).waitFor();
    // Stopped, it stays.
    await press(page, 'Take out photo 2');
    await press(page, 'Stop');
    await page.getByText('Stopped. The photo is not taken out: the face is as it was.').first().waitFor();
    await expect.poll(() => list.getByText('part of this face').count()).toBe(2);
    await page.getByRole('button', { name: 'Undo: Join photos' }).waitFor();
  },
);

test.runIf(process.env.SLOW)(
  'a photo of another slab is not joined: the face stays, and the photo is given to a slab of its own',
  async () => {
    const page = await newJob();
    await page.getByLabel('Add photos of slabs').setInputFiles(files(left));
    await page.getByText(runsOut).waitFor({ timeout: 60_000 });
    await page.getByLabel('Add photos', { exact: true }).setInputFiles(files(other));
    await page.getByText('What does this photo show?').waitFor();
    await press(page, 'Another part of this face');
    const alert = page.getByRole('alert').filter({ hasText: '"Photo 1" and "Photo 2" show different wood' });
    await alert.waitFor({ timeout: 60_000 });
    const list = page.getByRole('region', { name: 'Photos of this face' });
    expect(await list.getByText('part of this face').count()).toBe(1);
    // It can be tried again, and stopped while it is.
    await press(page, 'Join photo 2');
    await press(page, 'Stop');
    await page.getByText('Stopped. The photos are not joined: the face is as it was.').first().waitFor();
    expect(await list.getByText('not joined yet').count()).toBe(1);
    await press(page, 'It shows another slab');
    await page.getByRole('application', { name: 'Drawing of Slab 2, top face' }).waitFor({ timeout: 60_000 });
    await page.getByRole('button', { name: 'Slab 1' }).click();
    expect(await list.count()).toBe(0);
  },
);
