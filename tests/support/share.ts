import { readFile } from 'node:fs/promises';
import type { Download, Page } from 'playwright';
import { type Job, readJobFile } from '../../src/job';

/** The file that the open job is handed on as. */
export async function shareJob(page: Page): Promise<Download> {
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: /^Share/ }).click();
  await page.getByRole('button', { name: 'As a file, with its photos' }).click();
  return download;
}

/** What stands in it. */
export async function sharedJob(page: Page): Promise<{ bytes: Buffer; job: Job }> {
  const bytes = await readFile(await (await shareJob(page)).path());
  return { bytes, job: (await readJobFile(new Uint8Array(bytes))).job };
}
