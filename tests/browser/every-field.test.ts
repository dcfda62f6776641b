import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { everyStageJobFile } from '../support/every-stage-job';
import { HOSTILE, typeEverywhere } from '../support/hostile-fields';

const app = useApp();

async function opened(): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
  await page
    .getByLabel('Open a job file')
    .setInputFiles({ name: 'job.zip', mimeType: 'application/zip', buffer: await everyStageJobFile() });
  await page.getByLabel('Name of the job').waitFor();
  return page;
}

const STAGES = ['stock', 'tops', 'layout', 'flattening', 'keys', 'leaves', 'map'];
/** In a short run: stages whose numbers others are worked out from, and texts that once broke them. */
const [stages, texts]: [readonly string[], readonly string[]] = process.env.SLOW
  ? [STAGES, HOSTILE]
  : [['leaves'], ['1e300', '99999', '']];

test('whatever is typed into a field is taken, or gets a sentence beside it, and all else stays', {
  timeout: 1_800_000,
}, async () => {
  const page = await opened();
  for (const stage of stages) {
    await page.evaluate((to) => {
      location.hash = location.hash.replace(/[^/]*$/, to);
    }, stage);
    await page.getByRole('heading', { name: /.+/ }).first().waitFor();
    const { faults, fields } = await typeEverywhere(page, () => texts);
    expect(faults).toEqual([]);
    expect(fields.length).toBeGreaterThan(0);
    // Still usable: the next stage opens.
    await page
      .getByRole('link', { name: /^Stock|^✓Stock|Stock/ })
      .first()
      .click();
    await page.getByRole('button', { name: 'Boards' }).waitFor();
  }
});

test('a board that nothing can be reckoned with keeps nobody from the other stages, nor from mending it', async () => {
  const page = await opened();
  await page.getByRole('button', { name: 'Boards' }).click();
  const thickness = page.getByRole('region', { name: /./ }).getByLabel('Thickness (mm)').first();
  await thickness.fill('99999');
  await thickness.press('Enter');
  await page.getByText('something to mend').waitFor();
  await page.getByRole('link', { name: /Leaves/ }).click();
  await page
    .getByRole('button', { name: 'Before the saw' })
    .or(page.getByText('would give more than'))
    .first()
    .waitFor();
  await page.getByText("Check the board's thickness").waitFor();
  await page
    .locator('main')
    .getByRole('button', { name: /^Undo: Thickness/ })
    .click();
  await page.getByText("Check the board's thickness").waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Before the saw' }).waitFor();
});

test('a file that is no photo gets a sentence where photos are taken, and none anywhere takes the place of the app', async () => {
  const page = await opened();
  /** Drops a text file into the middle of the stage. @returns whether the browser was kept from opening it */
  const drop = () =>
    page.locator('main').evaluate((stage) => {
      const data = new DataTransfer();
      data.items.add(new File(['<script>document.title = 1</script>'], '<img src=x onerror=alert(1)>.html'));
      const event = new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true });
      (stage.firstElementChild ?? stage).dispatchEvent(event);
      return event.defaultPrevented;
    });
  await page.getByRole('button', { name: 'Boards' }).waitFor();
  expect(await drop()).toBe(true);
  await page.getByText('not a photo').first().waitFor();
  await page.getByRole('link', { name: /Flattening/ }).click();
  await page.getByRole('figure').first().waitFor();
  expect(await drop()).toBe(true);
  await page.getByText('Photos are added under Stock.').waitFor();
  expect(await page.getByRole('button', { name: 'Undo', exact: true }).isDisabled()).toBe(true);
});
