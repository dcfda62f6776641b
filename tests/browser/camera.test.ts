import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import sharp from 'sharp';
import { afterAll, expect, test } from 'vitest';
import { emptyJob, writeJobFile } from '../../src/job';
import { expectAccessible } from '../support/accessible';
import { useApp } from '../support/app';

let folder = '';

/** A camera that sees the demo slab, now and then blurred: a film of pictures one after the other, which the browser plays as its camera. */
async function film(): Promise<string> {
  folder = await mkdtemp(join(tmpdir(), 'waneline-camera-'));
  const picture = sharp('demo-images/slab-2.jpg').resize(2000);
  const soft = sharp(await picture.png({ compressionLevel: 0 }).toBuffer()).blur(1.6);
  const [still, shaken] = await Promise.all([picture, soft].map((each) => each.jpeg({ quality: 92 }).toBuffer()));
  const frames = Array.from({ length: 30 }, (_, i) => (i < 18 ? still : shaken) as Buffer);
  const file = join(folder, 'slab.mjpeg');
  await writeFile(file, Buffer.concat(frames));
  return file;
}
afterAll(() => rm(folder, { recursive: true, force: true }));

const app = useApp(async () => [
  '--use-fake-ui-for-media-stream',
  '--use-fake-device-for-media-stream',
  `--use-file-for-fake-video-capture=${await film()}`,
]);

const METRIC = { locale: 'en-GB' };
const PHONE = { ...METRIC, viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

const newJob = async (page: Page) => {
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByLabel('Name of the job').waitFor();
};

/** Files that are let go over an element, or pasted. */
async function give(page: Page, how: 'drop' | 'paste', files: { name: string; type: string; bytes: Uint8Array }[]) {
  const given = files.map(({ bytes, ...file }) => ({ ...file, base64: Buffer.from(bytes).toString('base64') }));
  await page.evaluate(
    ({ how, given }) => {
      const carried = new DataTransfer();
      for (const { name, type, base64 } of given) {
        const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
        carried.items.add(new File([bytes], name, { type }));
      }
      const to = document.querySelector('.job-main h2, .job-main, .opening-page') ?? document.body;
      const event =
        how === 'drop'
          ? new DragEvent('drop', { dataTransfer: carried, bubbles: true, cancelable: true })
          : new ClipboardEvent('paste', { clipboardData: carried, bubbles: true, cancelable: true });
      to.dispatchEvent(event);
    },
    { how, given },
  );
}

test.runIf(process.env.SLOW)(
  'one press takes three shots on a phone, the best is proposed, and the one that is taken is measured',
  async () => {
    const page = await app.open({ ...PHONE, permissions: ['camera'] });
    await newJob(page);
    await page.getByRole('button', { name: 'Take a photo' }).click();
    const camera = page.getByRole('dialog', { name: 'Camera' });
    await camera.getByText(/^(Good|Blurred)/).waitFor({ timeout: 60_000 });
    await expectAccessible(page);
    // The picture is covered by nothing, and the shutter is for a thumb in a glove.
    const [picture, shutter] = await Promise.all(
      ['video', '.shutter'].map((part) => camera.locator(part).boundingBox()),
    );
    expect(picture?.width).toBe(390);
    expect(shutter?.width).toBeGreaterThan(80);
    expect(shutter?.y).toBeGreaterThan((picture?.y ?? 0) + (picture?.height ?? 0));
    await camera.getByRole('button', { name: 'Take three shots' }).click();
    await camera.getByText(/^Shot \d is the best of 3/).waitFor({ timeout: 60_000 });
    expect(await camera.getByText('4 cards.').count()).toBe(3);
    await expectAccessible(page);
    await camera.locator('.button.main').click();
    await page.getByText('Measured to').waitFor({ timeout: 60_000 });
    await page.getByText('Saved here').waitFor();
    // Of three only the chosen one is kept.
    const stored = await page.evaluate(
      () =>
        new Promise<string[]>((resolve) => {
          indexedDB.open('waneline').onsuccess = (event) => {
            const all = (event.target as IDBOpenDBRequest).result
              .transaction('shelf')
              .objectStore('shelf')
              .getAllKeys();
            all.onsuccess = () => resolve(all.result.map(String));
          };
        }),
    );
    expect(stored.filter((key) => key.includes('photos/'))).toHaveLength(1);
  },
);

test('a camera that may not be used says so, and a file does', async () => {
  const page = await app.blank(PHONE);
  await page.addInitScript(() => {
    navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('', 'NotAllowedError'));
  });
  await page.goto('/');
  await newJob(page);
  await page.getByRole('button', { name: 'Take a photo' }).click();
  const camera = page.getByRole('dialog', { name: 'Camera' });
  await camera.getByText('This page may not use the camera.').waitFor();
  await camera
    .getByLabel('Choose a photo')
    .setInputFiles({ name: 'notes.heic', mimeType: 'image/heic', buffer: Buffer.from('....ftypheic....') });
  await page.getByText('This is a HEIC photo').waitFor();
});

test('a job is shown as codes that another device reads, and what is left out is said before', async () => {
  const page = await app.open({ ...METRIC, viewport: { width: 800, height: 900 }, reducedMotion: 'reduce' });
  await page.getByRole('button', { name: 'Open the demo job' }).click();
  await page.getByRole('button', { name: /^Share/ }).click();
  await page.getByRole('button', { name: 'As a code on this screen, without photos' }).click();
  const sheet = page.getByRole('dialog', { name: 'Hand over as a code' });
  await sheet.getByText('Left out: the photos').waitFor();
  await sheet.getByRole('button', { name: 'Its tops and doors' }).click();
  await sheet.getByText('All else of the job is left out.').waitFor();
  await expectAccessible(page);
  const total = Number(/of (\d+)/.exec((await sheet.getByText(/^Code 1 of/).textContent()) ?? '')?.[1]);
  const pictures: Buffer[] = [];
  for (let i = 1; i <= total; i++) {
    pictures.push(await sheet.getByRole('img', { name: `Code ${i} of ${total}` }).screenshot());
    await sheet.getByRole('button', { name: 'The next code' }).click();
  }
  const other = await app.open({ ...METRIC, permissions: ['camera'] });
  await other.getByRole('button', { name: 'Read a code' }).click();
  const reading = other.getByRole('dialog', { name: 'Read a code' });
  const show = (buffers: readonly Buffer[]) =>
    reading
      .getByLabel('Pictures of codes')
      .setInputFiles(buffers.map((buffer, i) => ({ name: `${i}.png`, mimeType: 'image/png', buffer })));
  await show([
    await sharp({ create: { width: 90, height: 90, channels: 3, background: 'white' } })
      .png()
      .toBuffer(),
  ]);
  await reading.getByText('No code is seen in this picture.').waitFor();
  await show(pictures.slice(1).reverse());
  await reading.getByText('Missing: 1.').waitFor();
  await show(pictures.slice(0, 1));
  await other.getByText('Saved here').waitFor();
  expect(await other.getByLabel('Name of the job').inputValue()).toBe('North wall counter');
  await other.getByRole('link', { name: /Tops and doors/ }).click();
  expect(await other.getByLabel('Name', { exact: true }).first().inputValue()).toBe('Counter');
});

test('job files open wherever they are dropped, each as a job of its own; photos go to Stock, pasted too; all else gets a sentence', async () => {
  const page = await app.open({ ...METRIC, viewport: { width: 1280, height: 800 } });
  const zip = async (name: string) => ({
    name: `${name}.zip`,
    type: 'application/zip',
    bytes: await writeJobFile({ job: emptyJob('dropped', name, '2026-11-26'), files: new Map() }),
  });
  const photo = { name: 'slab.jpg', type: 'image/jpeg', bytes: await readFile('demo-images/slab-3.jpg') };
  await give(page, 'drop', [photo]);
  await page.getByText('Photos of slabs are added in a job').waitFor();
  await give(page, 'drop', [
    await zip('Rack A'),
    await zip('Rack B'),
    { ...(await zip('')), bytes: new Uint8Array(9) },
  ]);
  await page.getByText('One file could not be opened.').waitFor();
  await page.getByRole('link', { name: /Rack A/ }).waitFor();
  await page.getByRole('link', { name: /Rack B/ }).click();
  const name = page.getByLabel('Name of the job');
  await expect.poll(() => name.inputValue()).toContain('Rack B');
  await page.getByRole('link', { name: /Layout/ }).click();
  await give(page, 'drop', [photo]);
  await page.getByText('Photos are added under Stock.').waitFor();
  await give(page, 'drop', [await zip('Rack C')]);
  await expect.poll(() => name.inputValue()).toContain('Rack C');
  await give(page, 'paste', [{ ...photo, bytes: new Uint8Array([1, 2, 3]) }]);
  await page.getByText('This file is not a photo.').waitFor();
  await give(page, 'paste', [photo]);
  await page.getByRole('button', { name: 'Undo: Add a photo' }).waitFor();
});
