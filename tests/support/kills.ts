import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { startMortal } from './killed-browser';

/** What one killed browser left. */
export interface Survived {
  /** Steps that were taken a second or more before it was killed, and those that are there after it. */
  readonly due: number;
  readonly there: number;
  /** Whether the job opened, one job is stored, and all bytes of every stored photo are there. */
  readonly whole: boolean;
}

/** What is safe on the disk after this long, ms. */
const SAFE = 1000;

/**
 * Edits the demo job as fast as it goes, in a browser that is killed with all its processes at random moments, and looks each time at what
 * is there when it is opened again. One profile throughout: what one kill breaks, the next start finds.
 */
export async function killAndLook(url: string, moments: readonly number[]): Promise<Survived[]> {
  const profile = await mkdtemp(join(tmpdir(), 'waneline-killed-'));
  const survived: Survived[] = [];
  let count = 0;
  try {
    for (const moment of moments) {
      const first = await startMortal(profile);
      await openDemo(first.page, url);
      const taken: { at: number; step: number }[] = [];
      const end = Date.now() + moment;
      while (Date.now() < end) {
        await rename(first.page, ++count);
        taken.push({ at: Date.now(), step: count });
      }
      const killed = Date.now();
      await first.kill();

      const second = await startMortal(profile);
      await openDemo(second.page, url);
      const there = Number(/ (\d+)$/.exec(await second.page.getByLabel('Name of the job').inputValue())?.[1] ?? 0);
      const due = taken.filter(({ at }) => at <= killed - SAFE).at(-1)?.step ?? 0;
      survived.push({ due, there, whole: await isWhole(second.page) });
      count = Math.max(count, there);
      await second.kill();
    }
  } finally {
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  return survived;
}

async function openDemo(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.getByRole('button', { name: 'Open the demo job' }).click();
  await page.getByLabel('Name of the job').waitFor();
}

async function rename(page: Page, step: number): Promise<void> {
  const name = page.getByLabel('Name of the job');
  await name.fill(`Step ${step}`);
  await name.press('Enter');
}

/** Whether the job opened, and what is stored of it is all there. */
async function isWhole(page: Page): Promise<boolean> {
  await page.getByRole('link', { name: /^Stock/ }).waitFor();
  return page.evaluate(async () => {
    const database = await new Promise<IDBDatabase>((resolve, reject) => {
      const opening = indexedDB.open('waneline');
      opening.onsuccess = () => resolve(opening.result);
      opening.onerror = () => reject(opening.error);
    });
    // Each reading its own transaction: one ends while the bytes of a photo are awaited.
    const shelfOf = (open: IDBDatabase) => open.transaction('shelf').objectStore('shelf');
    const read = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const keys = (await read(shelfOf(database).getAllKeys())) as string[];
    const jobs = keys.filter((key) => key.startsWith('job/'));
    let photos = 0;
    for (const key of keys.filter((one) => one.startsWith('file/'))) {
      const record = await read(shelfOf(database).get(key));
      if (record.blob.size > 0 && (await record.blob.arrayBuffer()).byteLength === record.blob.size) photos++;
    }
    database.close();
    return jobs.length === 1 && photos > 0 && photos === keys.filter((key) => key.startsWith('file/')).length;
  });
}
