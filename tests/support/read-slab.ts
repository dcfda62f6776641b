import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContextOptions, Page } from 'playwright';
import { inject } from 'vitest';
import type { useApp } from './app';
import { sharedJob } from './share';

const photo = { name: 'slab.jpg', mimeType: 'image/jpeg', buffer: readFileSync('demo-images/slab-2.jpg') };

/**
 * Pages with a new job, in millimetres, whose one slab was read from a demo photo to the end. The first page of all test files reads it;
 * the next ones open the job file that the first one gave, which takes a tenth of the time. So they have the job but not the step that
 * read the photo, nor the lens that it taught.
 */
export function useReadSlab(app: ReturnType<typeof useApp>) {
  return async (options: BrowserContextOptions = {}): Promise<Page> => {
    const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 800 }, ...options });
    const jobFile = join(inject('shared'), 'slab.zip');
    if (existsSync(jobFile)) {
      await page.getByLabel('Open a job file').setInputFiles(jobFile);
      await page.getByText('Measured to').waitFor();
      return page;
    }
    await readNewSlab(page);
    await page.getByText('Saved here').waitFor();
    writeFileSync(jobFile, (await sharedJob(page)).bytes);
    return page;
  };
}

/** A new job whose first photo is a demo photo, read until its defects are there too. */
export async function readNewSlab(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByLabel('Add photos of slabs').setInputFiles(photo);
  await page.getByText('Measured to').waitFor({ timeout: 90_000 });
  await page.getByRole('button', { name: /^Look at .* defects? that it saw$/ }).waitFor({ timeout: 90_000 });
}
