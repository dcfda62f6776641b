import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';
import { walkDemo } from '../support/demo-walk';
import { cumulativeLayoutShift, type Shift } from '../support/layout-shift';
import { leafJobFile } from '../support/leaf-job';
import { mainThread, quantile } from '../support/main-thread';
import { manyPhotosFile } from '../support/many-photos';
import { PHONE } from '../support/targets';

/**
 * The budgets of issue 9, on the built app; each is printed with the machine's load. What a slowed processor is held to is measured as the main
 * thread's own processor time, times four; what is held to the clock is given as much longer as others use the machine.
 */

const app = useApp();
const slow = test.runIf(process.env.SLOW);
const LONG = { timeout: 600_000 };
const DESK = { locale: 'en-GB', viewport: { width: 1280, height: 800 } };
const SLOWED = 4;
const CORES = 2;
/** How much longer than by itself work takes on this machine now. */
const crowd = () => Math.max(1, (loadavg()[0] ?? 0) / CORES);

/** How the browser tells it. */
interface ShiftEntry {
  readonly startTime: number;
  readonly value: number;
  readonly hadRecentInput: boolean;
  readonly sources: readonly { readonly node: Node | null }[];
}

function told(what: string, value: number, most: number, unit = 'ms'): number {
  process.stdout.write(`${what}: ${value.toPrecision(3)} ${unit} of ${most} (load ${loadavg()[0]?.toFixed(1)})\n`);
  return value;
}

/** Opens a job file that is too large to be handed over as bytes. */
async function open(page: Page, file: Buffer): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'waneline-speed-'));
  try {
    const path = join(folder, 'job.zip');
    await writeFile(path, file);
    await page.getByLabel('Open a job file').setInputFiles(path);
    await page.getByLabel('Name of the job').waitFor(LONG);
  } finally {
    await rm(folder, { recursive: true });
  }
}

slow(
  'the shell is painted, all of the demo job answers, and nothing shifts, on a processor four times as slow',
  LONG,
  async () => {
    const page = await app.blank({ ...PHONE, serviceWorkers: 'block' });
    const shifts: (Shift & { what: string })[] = [];
    await page.exposeFunction('shifts', (shift: (typeof shifts)[number]) => shifts.push(shift));
    await page.addInitScript(() => {
      const told = (node: Node | null) => (node instanceof Element ? node : node?.parentElement)?.className;
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as (PerformanceEntry & ShiftEntry)[])
          if (!entry.hadRecentInput)
            Reflect.get(
              window,
              'shifts',
            )({
              at: entry.startTime,
              value: entry.value,
              what: `${location.hash} ${entry.sources.map(({ node }) => told(node)).join(', ')}`,
            });
      }).observe({ type: 'layout-shift', buffered: true });
    });
    const { firstPaint } = await mainThread(page, async () => {
      await page.goto('/');
      await page.getByRole('button', { name: 'Open the demo job' }).waitFor();
    });
    expect(firstPaint).toBeGreaterThan(1);
    expect(told('first paint', SLOWED * firstPaint, 1500)).toBeLessThan(1500);

    const { interactions } = await mainThread(page, () => walkDemo(page, async () => {}));
    expect(interactions.length).toBeGreaterThan(30);
    told('slowest answer', SLOWED * Math.max(...interactions), 200);
    expect(told('answers, 75 of 100', SLOWED * quantile(interactions, 0.75), 200)).toBeLessThan(200);
    for (const { value, what } of shifts.toSorted((one, other) => other.value - one.value).slice(0, 5))
      told(what, value, 0.05, '');
    const all = shifts.reduce((sum, { value }) => sum + value, 0);
    told('layout shift, all of the walk added up', all, 0.05, '');
    expect(told('layout shift', cumulativeLayoutShift(shifts), 0.05, '')).toBeLessThan(0.05);
  },
);

slow(
  '12 million pixels and 500 points of an outline are moved and zoomed with at most 8 ms of script a frame',
  LONG,
  async () => {
    const page = await app.open(DESK);
    await open(page, await manyPhotosFile(1, 500));
    await page.getByRole('button', { name: 'Outline', exact: true }).click();
    await page.getByText('1–8 of 500').waitFor();
    const box = (await page.getByRole('application').boundingBox())!;
    const [x, y] = [box.x + 0.45 * box.width, box.y + 0.45 * box.height];
    const move = async () => {
      await page.mouse.move(x, y);
      for (let i = 0; i < 20; i++) await page.mouse.wheel(0, i < 10 ? -120 : 120);
      await page.mouse.down();
      for (let i = 0; i < 30; i++) await page.mouse.move(x + 4 * i, y + 2 * i);
      await page.mouse.up();
    };
    // Once before, as a hand would: what is first called is compiled.
    await move();
    const { script } = await mainThread(page, move);
    const frames = script.filter((ms) => ms > 0.05);
    expect(frames.length).toBeGreaterThan(20);
    told('script a frame, middle', quantile(frames, 0.5), 8);
    expect(told('script a frame, most', Math.max(...frames), 8)).toBeLessThan(8);
  },
);

slow('a job with 30 photos of 12 million pixels opens in 2 s', LONG, async () => {
  const page = await app.open(DESK);
  await open(page, await manyPhotosFile(30, 200));
  await page.getByText('Saved here').waitFor(LONG);
  await page.goto('/');
  const link = page.getByRole('link', { name: /Many photos/ });
  await link.waitFor();
  const took = await link.evaluate(
    (job: HTMLElement) =>
      new Promise<number>((resolve) => {
        const start = performance.now();
        job.click();
        const look = () => {
          const canvas = document.querySelector('canvas');
          const { width = 0, height = 0 } = canvas ?? {};
          const middle = canvas?.getContext('2d')?.getImageData(width >> 1, height >> 1, 1, 1).data;
          if (middle?.[3]) resolve(performance.now() - start);
          else requestAnimationFrame(look);
        };
        look();
      }),
  );
  const most = 2000 * crowd();
  expect(told('30 photos', took, most)).toBeLessThan(most);
});

slow('a photo of 12 million pixels and all that is read of it are kept in less than 8 MB', LONG, async () => {
  const page = await app.open({ ...DESK, serviceWorkers: 'block' });
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByText('Saved here').waitFor();
  const buffer = await readFile('demo-images/slab-2.jpg');
  await page.getByLabel('Add photos of slabs').setInputFiles({ name: 'slab.jpg', mimeType: 'image/jpeg', buffer });
  await page.getByText(/^Photo read: outline traced/).waitFor(LONG);
  await page.getByText('Saved here').waitFor();
  const bytes = await page.evaluate(async () => {
    const answer = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve) => {
        request.onsuccess = () => resolve(request.result);
      });
    const database = await answer(indexedDB.open('waneline'));
    const records = await answer(database.transaction('shelf').objectStore('shelf').getAll());
    return records.reduce((sum, { blob, ...rest }) => sum + (blob?.size ?? 0) + JSON.stringify(rest).length, 0);
  });
  told('the photo as it came', buffer.length / 1e6, 8, 'MB');
  expect(bytes).toBeGreaterThan(buffer.length);
  expect(told('kept of a photo', bytes / 1e6, 8, 'MB')).toBeLessThan(8);
});

slow('a leaf exchanged by key is seen within 50 ms', LONG, async () => {
  const page = await app.open(DESK);
  await open(page, await leafJobFile(10));
  await page.getByRole('link', { name: /Leaves/ }).click();
  await page.getByRole('button', { name: 'Lay the doors out' }).click();
  await page.getByText('Checked: every piece lies on its own sound wood').waitFor(LONG);
  await page.getByRole('application').focus();
  await page.keyboard.press('n');
  const times: number[] = [];
  for (let i = 0; i < 6; i++) {
    // A hand rests between two; then all is read already that the next one asks for.
    await page.waitForTimeout(1500);
    const seen = page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          let start = 0;
          addEventListener('keydown', () => (start = performance.now()), { capture: true, once: true });
          const steps = document.querySelector('#steps ol') as Element;
          new MutationObserver((_, own) => {
            own.disconnect();
            requestAnimationFrame(() => resolve(performance.now() - start));
          }).observe(steps, { childList: true });
        }),
    );
    await page.keyboard.press('.');
    times.push(await seen);
  }
  const most = 50 * crowd();
  expect(told('a leaf exchanged, middle', quantile(times, 0.5), most)).toBeLessThan(most);
});
