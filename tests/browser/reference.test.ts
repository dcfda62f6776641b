import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { readNewSlab, useReadSlab } from '../support/read-slab';

/** What lies on the slab, and all that is typed about it, in the built app. */

const app = useApp();

/** A new job reads in millimetres here. */
const METRIC = { locale: 'en-GB', viewport: { width: 1280, height: 900 } };

const demoPhoto = readFileSync('demo-images/slab-2.jpg');

interface Truth {
  readonly check_distances: {
    readonly a_px: [number, number];
    readonly b_px: [number, number];
    readonly plan_mm: number;
  }[];
}
const truth = JSON.parse(readFileSync('tests/fixtures/truth/slab-2.json', 'utf8')) as Truth;
/** The longest of the known lengths on the demo slab. */
const known = truth.check_distances.reduce((a, b) => (b.plan_mm > a.plan_mm ? b : a));

async function newJob(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByLabel('Name of the job').waitFor();
}

async function addPhoto(page: Page, name: string, buffer: Buffer): Promise<void> {
  await page
    .getByLabel(/^Add (a photo|photos|photos of slabs)$/)
    .first()
    .setInputFiles({ name, mimeType: 'image/jpeg', buffer });
}

const readSlab = useReadSlab(app);

const jobWithSlab = () => readSlab(METRIC);

/** The same, read here and now: its lens is known then. */
async function jobWithLens(): Promise<Page> {
  const page = await app.open(METRIC);
  await readNewSlab(page);
  return page;
}

const panel = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const press = (page: Page, name: string | RegExp) =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name }).click();

async function type(page: Page, label: string, value: number | string): Promise<void> {
  const field = page.getByLabel(label, { exact: true });
  await field.fill(String(value));
  await field.press('Enter');
}

/** Waits until the drawing shows its picture: before that it takes no taps. */
const shown = (page: Page) =>
  page.waitForFunction(() => {
    const canvas = document.querySelector<HTMLCanvasElement>('.sheet-host canvas');
    const middle = canvas?.getContext('2d')?.getImageData(canvas.width / 2, canvas.height / 2, 1, 1).data;
    return (middle?.[3] ?? 0) > 0;
  });

const typed = (page: Page, label: string) => page.getByLabel(label, { exact: true }).inputValue();

/** A tape check by keys and numbers alone. */
async function tape(
  page: Page,
  a: readonly [number, number],
  b: readonly [number, number],
  length: number,
): Promise<void> {
  await press(page, 'Add a tape check');
  for (const [end, px] of [
    ['a', a],
    ['b', b],
  ] as const) {
    await press(page, 'Place an end by keys or numbers');
    await type(page, `End ${end}, photo right (pixels)`, px[0]);
    await type(page, `End ${end}, photo down (pixels)`, px[1]);
  }
  await type(page, 'The tape says (mm)', length);
  await press(page, 'Take it in');
  await page.getByRole('button', { name: 'Add a tape check', exact: true }).waitFor({ timeout: 60_000 });
}

const outlinePoints = async (page: Page) => {
  await panel(page, 'Outline');
  const count = await page.getByText(/1–8 of \d+/).textContent();
  await panel(page, 'Photo');
  return count;
};

test.runIf(process.env.SLOW)(
  'a true tape check is taken in, a misread one refused with what it is off by; the outline keeps its points; each is one step',
  async () => {
    const page = await jobWithSlab();
    const points = await outlinePoints(page);
    await tape(page, known.a_px, known.b_px, known.plan_mm);
    const taken = page.getByText('Taken in. The photo says');
    await taken.waitFor();
    const says = Number(/says ([\d.]+)/.exec((await taken.textContent()) ?? '')?.[1]);
    expect(Math.abs(says - known.plan_mm)).toBeLessThan(0.005 * known.plan_mm);
    expect(await outlinePoints(page)).toBe(points);

    const other = truth.check_distances.find(({ plan_mm }) => plan_mm > 1000 && plan_mm !== known.plan_mm)!;
    await tape(page, other.a_px, other.b_px, other.plan_mm + 100);
    const refused = page.getByText('Not taken in.').locator('..');
    expect(await refused.textContent()).toMatch(/(8|9|10|11)\d(\.\d)?\smm less than the tape/);
    // Mended where it stands: it is measured at once.
    await type(page, 'The tape says, T2 (mm)', other.plan_mm);
    await page.getByText('Not taken in.').waitFor({ state: 'detached', timeout: 60_000 });
    expect(await taken.count()).toBe(2);

    await page.getByText('Saved here').waitFor();
    await page.reload();
    await taken.first().waitFor();
    await press(page, 'Undo: Change a tape check');
    await page.getByText('Not taken in.').waitFor();
    await press(page, 'Undo: Add a tape check');
    await press(page, 'Undo: Add a tape check');
    expect(await taken.count()).toBe(0);
    await page.getByText('One length taped on the wood').waitFor();
  },
);

test('a tape check is tapped from above or on the photo, and outlives a look elsewhere; two ends on one spot are said', async () => {
  const page = await jobWithSlab();
  await press(page, 'Add a tape check');
  await shown(page);
  const box = (await page.getByRole('application', { name: /^Drawing of/ }).boundingBox())!;
  const tap = (x: number, y = 0.5) => page.mouse.click(box.x + x * box.width, box.y + y * box.height);
  // Taps on one spot are one end: the next ones only take hold of it.
  await expect
    .poll(async () => {
      await tap(0.2);
      return page.getByText('Tap where it ended.').isVisible();
    })
    .toBe(true);
  await tap(0.2);
  await page.getByText('Tap where it ended.').waitFor();
  await press(page, 'Place an end by keys or numbers');
  await panel(page, 'The photo');
  await page.getByRole('application', { name: /^Photo of/ }).waitFor();
  await shown(page);
  await tap(0.8);
  await page.getByText(/The photo says \d+\smm ±.*What does the tape say/).waitFor();
  const end = page.getByLabel('End b, photo right (pixels)');
  expect(Number(await end.inputValue())).toBeGreaterThan(2000);
  // What is in hand outlives a look at another panel.
  await panel(page, 'Slab');
  await panel(page, 'Photo');
  await page.getByText('What does the tape say').waitFor();

  await press(page, 'Leave');
  await press(page, 'Add a tape check');
  await press(page, 'Place an end by keys or numbers');
  const at = await typed(page, 'End a, photo right (pixels)');
  await press(page, 'Place an end by keys or numbers');
  await type(page, 'End b, photo right (pixels)', at);
  await page.getByText('Both ends lie on the same spot').waitFor();
  expect(await page.getByRole('button', { name: 'Take it in' }).isDisabled()).toBe(true);
});

test('rods are tapped one after the other and kept over a reload; what lacks or is wrong is said where it stands', async () => {
  const page = await app.open(METRIC);
  await newJob(page);
  await press(page, 'Rods or tapes');
  const board = await sharp({ create: { width: 1600, height: 1200, channels: 3, background: '#8a7a66' } })
    .jpeg()
    .toBuffer();
  await addPhoto(page, 'rods.jpg', board);
  await page.getByText('Tap both ends of a rod or tape on the photo.').waitFor();
  const measure = page.getByRole('button', { name: 'Measure the photo by this' });
  expect(await measure.isDisabled()).toBe(true);
  await shown(page);
  const box = (await page.getByRole('application').boundingBox())!;
  const tap = (x: number, y: number) => page.mouse.click(box.x + x * box.width, box.y + y * box.height);
  await tap(0.2, 0.5);
  await page.getByText('Tap the other end of rod 1.').waitFor();
  await tap(0.7, 0.5);
  await page.getByText('Type how long rod 1 is.').waitFor();
  const rod = (n: number) => page.getByRole('region', { name: `Rod ${n}` });
  const length = rod(1).getByLabel('Length (mm)');
  await length.fill('0');
  await length.press('Enter');
  await rod(1).getByText('This must be more than 0.').waitFor();
  await length.fill('1000');
  await length.press('Enter');
  await page.getByText('One rod alone does not tell the slant').waitFor();
  await tap(0.5, 0.35);
  await tap(0.5, 0.65);
  expect(await rod(2).getByLabel('Length (mm)').inputValue()).toBe('1000');
  expect(await measure.isEnabled()).toBe(true);

  await rod(1).getByText('Marks along it, its corners').click();
  await press(page, 'Tap marks along it');
  await tap(0.3, 0.5);
  await type(page, 'Mark 1, from end 1a (mm)', 1200);
  await page.getByText('Mark 1 of rod 1 lies beyond its ends').waitFor();

  await page.getByText('Saved here').waitFor();
  await page.reload();
  await page.getByText('Mark 1 of rod 1 lies beyond its ends').waitFor();
  expect(await rod(1).getByLabel('Length (mm)').inputValue()).toBe('1000');
  // Another kind and back: all is there.
  await press(page, 'Points I measured');
  await page.getByText('0 of 4 points are complete.').waitFor();
  await press(page, 'Rods or tapes');
  await page.getByText('Mark 1 of rod 1 lies beyond its ends').waitFor();
});

test.runIf(process.env.SLOW)(
  'a photo that four cards measured teaches the lens; a later photo of that camera uses it with a sheet, until it is forgotten',
  async () => {
    const page = await jobWithLens();
    await page.getByText("This camera's lens").click();
    await page.getByText('This photo taught it.').waitFor();
    await press(page, '+ Slab');
    await press(page, 'A sheet of paper');
    await addPhoto(page, 'sheet.jpg', demoPhoto);
    const use = page.getByLabel('Use what the photo of 1 May 2024 taught about this camera', { exact: true });
    await use.waitFor({ timeout: 90_000 });
    expect(await use.isChecked()).toBe(true);
    await use.uncheck();
    expect(await use.isChecked()).toBe(false);
    await press(page, /^Forget the lens of .*, 29 mm, 4000 × 3000$/);
    await use.waitFor({ state: 'detached' });
  },
);

test.runIf(process.env.SLOW)('a photo of another camera is never measured by that lens unasked', async () => {
  const page = await jobWithLens();
  await page.getByText("This camera's lens").waitFor();
  const other = await sharp(demoPhoto)
    .withExif({ IFD0: { Make: 'Else', Model: 'Other' }, IFD2: { FocalLengthIn35mmFilm: '29' } })
    .jpeg()
    .toBuffer();
  // Rods are clicked first, so nothing is read yet.
  await press(page, '+ Slab');
  await press(page, 'Rods or tapes');
  await addPhoto(page, 'other.jpg', other);
  await page.getByText("This camera's lens").click();
  await page.getByText('Nothing is kept of the camera that took this photo (Other, 29 mm').waitFor();
  expect(await page.getByLabel(/^Use what the photo of/).count()).toBe(0);
  const stripped = await sharp(demoPhoto).jpeg().toBuffer();
  await press(page, '+ Slab');
  await addPhoto(page, 'stripped.jpg', stripped);
  const offer = page.getByLabel(/if it is the same$/);
  await offer.waitFor();
  expect(await offer.isChecked()).toBe(false);
});

test.runIf(process.env.SLOW)(
  'cards lying lower: allowed for, said in one line, with the outline as it was drawn',
  async () => {
    const page = await jobWithSlab();
    const points = await outlinePoints(page);
    await page.getByText('The cards lie lower than the face').click();
    await type(page, 'Lower by (mm)', 54);
    await page.getByText('The outline and all that is drawn keep to their spots on the photo.').waitFor();
    await press(page, 'Measure again by this');
    const line = page.getByText('The wood stands 54 mm nearer to the camera');
    await line.waitFor({ timeout: 60_000 });
    expect(await line.textContent()).toMatch(/2\.\d % larger.*off by \d+\smm.*found from the photo/);
    expect(await outlinePoints(page)).toBe(points);
    await press(page, 'Undo: Measure again');
    await line.waitFor({ state: 'detached' });
    // What was typed is still there, to be measured by or left.
    expect(await typed(page, 'Lower by (mm)')).toBe('54');
    await press(page, 'Leave it as it was');
    expect(await typed(page, 'Lower by (mm)')).toBe('0');
  },
);

test.runIf(process.env.SLOW)('once the face is read, it is measured again with the readings', async () => {
  const page = await jobWithSlab();
  await page.getByText(/The ± allows for warp: an edge that stands 5\smm high moves by up to/).waitFor();
  await panel(page, 'Readings');
  await press(page, 'Add 3 × 5 spots');
  for (const [i, drop] of [0, 8, 3, 6, 12, 9].entries()) await type(page, `Drop at spot ${i + 1} (mm)`, drop);
  await panel(page, 'Photo');
  await press(page, 'Measure again with the readings');
  await page.getByText('Measured point by point with the readings of the face.').waitFor({ timeout: 60_000 });
  expect(await page.getByRole('button', { name: 'Measure again with the readings' }).count()).toBe(0);
  await panel(page, 'Readings');
  await type(page, 'Drop at spot 1 (mm)', 1);
  await panel(page, 'Photo');
  await page.getByRole('button', { name: 'Measure again with the readings' }).waitFor();
});

test('cards are saved as a PDF; a side that cannot be is refused in a sentence', async () => {
  const page = await app.open(METRIC);
  await newJob(page);
  await page.getByText('Print cards').click();
  await type(page, 'Side of the black square to print (mm)', 400);
  await press(page, 'Save the sheet of cards (PDF)');
  await page.getByText('does not fit on A4. Choose a side between').waitFor();
  await type(page, 'Side of the black square to print (mm)', 60);
  const saved = page.waitForEvent('download');
  await press(page, 'Save the sheet of cards (PDF)');
  const file = readFileSync(await (await saved).path());
  const { getDocument } = await import('pdfjs-dist/legacy/build/pdf.mjs');
  const pdf = await getDocument({ data: new Uint8Array(file), useSystemFonts: false, verbosity: 0 }).promise;
  const { items } = await (await pdf.getPage(1)).getTextContent();
  const words = items.map((item) => ('str' in item ? item.str : '')).join(' ');
  for (const id of [0, 1, 2, 3]) expect(words).toContain(`card ${id}, black square 60 mm`);
});

test('measured places of cards give the frame; a number typed twice is said', async () => {
  const page = await jobWithSlab();
  await page.getByText('I taped where the cards lie').click();
  await press(page, "Add a card's place");
  await press(page, "Add a card's place");
  await type(page, 'Number of the card in row 2', 0);
  await page.getByText('Card 0 is there twice').waitFor();
  expect(await page.getByRole('button', { name: 'Measure again by this' }).isDisabled()).toBe(true);
});
