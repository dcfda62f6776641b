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

/** What a browser left that was killed while a photo was taken in. */
export interface Added {
  /** Files that the stored jobs name: photos, and the pictures that were made of them. */
  readonly named: number;
  /** Those of them that are not there to the last byte. */
  readonly broken: readonly string[];
  /** Jobs that are stored, and those that were begun a second or more before a kill. */
  readonly jobs: number;
  readonly due: number;
}

/** Adds a photo to a job of its own, in a browser that is killed so many ms after the photo was handed over, time and again over one profile. */
export async function killWhileAdding(url: string, photo: string, moments: readonly number[]): Promise<Added[]> {
  const profile = await mkdtemp(join(tmpdir(), 'waneline-killed-'));
  const added: Added[] = [];
  let due = 0;
  try {
    for (const moment of moments) {
      const first = await startMortal(profile);
      await first.page.goto(url);
      await first.page.getByRole('button', { name: 'New job', exact: true }).click();
      await first.page.getByLabel('Add photos of slabs').setInputFiles(photo);
      await first.page.waitForTimeout(moment);
      await first.kill();
      if (moment >= SAFE) due++;

      const second = await startMortal(profile);
      await second.page.goto(url);
      await second.page.getByRole('button', { name: 'New job', exact: true }).waitFor();
      added.push({ ...(await filesOf(second.page)), due });
      await second.kill();
    }
  } finally {
    await rm(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  return added;
}

/** The files that stored jobs name, and those that are not whole. */
async function filesOf(page: Page): Promise<Omit<Added, 'due'>> {
  return page.evaluate(async () => {
    const settled = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await settled(indexedDB.open('waneline'));
    const shelf = () => database.transaction('shelf').objectStore('shelf');
    const keys = (await settled(shelf().getAllKeys())) as string[];
    const broken: string[] = [];
    let named = 0;
    const jobs = keys.filter((one) => one.startsWith('job/'));
    for (const key of jobs) {
      const { history } = await settled(shelf().get(key));
      const names = JSON.stringify(history.job).matchAll(/"file":"([^"]+)"/g);
      for (const [, name] of names) {
        named++;
        const record = await settled(shelf().get(`file/${history.job.id}/${name}`));
        if (!record?.blob.size || (await record.blob.arrayBuffer()).byteLength !== record.blob.size)
          broken.push(name as string);
      }
    }
    database.close();
    return { named, broken, jobs: jobs.length };
  });
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
