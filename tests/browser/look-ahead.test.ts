import { readFile } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { boardJobFile } from '../support/board-job';
import { sharedJob } from '../support/share';

const app = useApp();

test.runIf(process.env.SLOW)(
  'the leaves of a board are looked at before it is sawn, and doors laid on them: an estimate, marked as one and never kept',
  {
    timeout: 60_000,
  },
  async () => {
    const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
    await page.getByLabel('Open a job file').setInputFiles({
      name: 'board.zip',
      mimeType: 'application/zip',
      buffer: await boardJobFile(),
    });
    await page.getByRole('link', { name: /Stock/ }).click();
    await page.getByRole('link', { name: /Leaves/ }).click();
    const card = page.getByRole('region', { name: 'How the leaves are likely to look' });
    await card.getByRole('button', { name: 'Look ahead at Oak board' }).click();
    await card.getByRole('button', { name: 'Lay the doors out on them' }).click({ timeout: 40_000 });
    await card.getByText(/^Estimate: 1 front laid\./).waitFor({ timeout: 20_000 });
    await page.getByRole('img', { name: 'Leaf 1, estimated' }).waitFor();
    await page.getByRole('application', { name: 'Estimated elevation of the doors' }).waitFor();
    await page.getByText('No leaf has been sawn yet.').waitFor();
    await page.setViewportSize({ width: 390, height: 844 });
    for (const target of await card.getByRole('button').all())
      expect((await target.boundingBox())!.height).toBeGreaterThanOrEqual(44);

    const printed = page.waitForEvent('download');
    await card.getByRole('button', { name: 'Print this estimate' }).click();
    const pdf = await readFile(await (await printed).path());
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');

    const { job } = await sharedJob(page);
    expect(job.sets).toEqual({});
    expect(job.boards['board-1']!.leaves).toEqual({});
    expect(job.boards['board-1']!.faces!.bottom.picture).not.toBeNull();
  },
);
