import type { BrowserContextOptions, Page } from 'playwright';
import { expect, test } from 'vitest';
import { distance, distanceToRing, type Point, ringArea } from '../../src/geometry';
import type { Face, History } from '../../src/job';
import { useApp } from '../support/app';
import { useReadSlab } from '../support/read-slab';

/** The tools for the outline, each as a person works it: by mouse, by finger, by keys alone. */

const app = useApp();
const readSlab = useReadSlab(app);

type At = Point<'face'>;
type Screen = readonly [x: number, y: number];

/** A job with one slab that was read, its outline in view. */
async function outlineOf(options: BrowserContextOptions = {}): Promise<Page> {
  const page = await readSlab(options);
  await page.getByRole('button', { name: 'Outline', exact: true }).click();
  return page;
}

const tool = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const press = async (page: Page, ...keys: string[]) => {
  for (const key of keys) await page.keyboard.press(key);
};

/** The face as it was last saved, once what was done is. */
async function savedFace(page: Page): Promise<Face> {
  await page.waitForTimeout(150);
  await page.getByText('Saved here').waitFor();
  const history = await page.evaluate(
    () =>
      new Promise<History>((resolve, reject) => {
        const opening = indexedDB.open('waneline');
        opening.onsuccess = () => {
          const all = opening.result
            .transaction('shelf')
            .objectStore('shelf')
            .getAll(IDBKeyRange.bound('job/', 'job/~'));
          all.onsuccess = () => resolve(all.result[0].history);
          all.onerror = () => reject(all.error);
        };
      }),
  );
  const slab = Object.values(Object.values(history.job.flitches)[0]!.slabs)[0]!;
  return slab.faces.top;
}

const ringOf = async (page: Page) => (await savedFace(page)).outline!.outer;

/** Where a place of the face is on the screen: read off the crosses that two taps on the wood put. */
async function onScreen(page: Page): Promise<(at: At) => Screen> {
  const box = (await page.getByRole('application').boundingBox())!;
  const readout = page.getByLabel('At the cross');
  const read = async (x: number, y: number) => {
    await page.mouse.click(x, y);
    await page.mouse.move(x, y);
    const text = (await readout.textContent()) ?? '';
    const [along, across] = [.../(?:along|across) (−?[\d.]+)/g[Symbol.matchAll](text)].map((m) =>
      Number(m[1]!.replace('−', '-')),
    );
    return [along!, across!] as const;
  };
  const [a, b]: Screen[] = [
    [box.x + 0.35 * box.width, box.y + 0.5 * box.height],
    [box.x + 0.65 * box.width, box.y + 0.5 * box.height],
  ];
  const [p, q] = [await read(...a!), await read(...b!)];
  const scale = (b![0] - a![0]) / (q[0] - p[0]);
  return ([x, y]) => [a![0] + scale * (x - p[0]), a![1] + scale * (y - p[1])];
}

/** The point of a ring that lies nearest. */
const nearest = (ring: readonly At[], to: At) =>
  ring.reduce((best, p, i) => (distance(p, to) < distance(ring[best]!, to) ? i : best), 0);

/** Length of the outline's upper side that lies over a stretch, as places at equal steps along it. */
function upperSide(ring: readonly At[], from: number, to: number): At[] {
  const middle = ring.reduce((sum, [, y]) => sum + y / ring.length, 0);
  return ring.filter(([x, y]) => y < middle && x > from && x < to);
}

test.runIf(process.env.SLOW)(
  'a line drawn along the edge takes the place of a spoilt stretch: by taps, by drag, and undone',
  async () => {
    const page = await outlineOf();
    const traced = await ringOf(page);
    const toScreen = await onScreen(page);
    // Spoils the upper side: a point and its neighbours are pushed 40 mm into the wood.
    const xs = traced.map(([x]) => x);
    const [left, right] = [Math.min(...xs), Math.max(...xs)];
    const x0 = left + 0.55 * (right - left);
    const hurt = nearest(upperSide(traced, left, right), [x0, 0]);
    const place = upperSide(traced, left, right)[hurt]!;
    await tool(page, '150 mm');
    const at = toScreen(place);
    await page.mouse.move(...at);
    await page.mouse.down();
    await page.mouse.move(at[0], at[1] + 40, { steps: 5 });
    await page.mouse.up();
    const spoilt = await ringOf(page);
    expect(distanceToRing(place, spoilt)).toBeGreaterThan(15);
    expect(ringArea(spoilt)).toBeLessThan(ringArea(traced) - 3000);

    // By taps: on the outline left of it, on the edge in the middle, on the outline right of it.
    await tool(page, 'Follow');
    const stops = [-170, 0, 170].map((by) => {
      const side = upperSide(traced, left, right);
      return side[nearest(side, [place[0] + by, place[1]])]!;
    });
    for (const stop of stops) {
      await page.mouse.click(...toScreen(stop));
      await page.waitForTimeout(400);
    }
    await page.getByText('The line joins:').waitFor();
    const mended = await ringOf(page);
    for (const p of upperSide(traced, place[0] - 150, place[0] + 150))
      expect(distanceToRing(p, mended)).toBeLessThan(4);
    expect(Math.abs(ringArea(mended) / ringArea(traced) - 1)).toBeLessThan(0.003);

    // Undone, and again in one drag along the edge.
    await page.getByRole('button', { name: 'Undo: Follow the edge' }).click();
    expect(distanceToRing(place, await ringOf(page))).toBeGreaterThan(15);
    const way = upperSide(traced, stops[0]![0] - 1, stops[2]![0] + 1).toSorted((a, b) => a[0] - b[0]);
    await page.mouse.move(...toScreen(way[0]!));
    await page.mouse.down();
    for (const p of way.slice(1)) {
      await page.mouse.move(...toScreen(p), { steps: 4 });
      await page.waitForTimeout(60);
    }
    await page.mouse.up();
    await page.getByRole('button', { name: 'Undo: Follow the edge' }).waitFor();
    const dragged = await ringOf(page);
    for (const p of upperSide(traced, place[0] - 150, place[0] + 150))
      expect(distanceToRing(p, dragged)).toBeLessThan(4);
  },
);

test.runIf(process.env.SLOW)('the edge is followed by keys alone', async () => {
  const page = await outlineOf();
  const traced = await ringOf(page);
  await tool(page, 'Follow');
  const drawing = page.getByRole('application');
  await drawing.focus();
  // Near to, so that a place beside the outline is not taken for one on it. A cross on the outline's first point begins the line.
  await press(page, ...Array.from({ length: 10 }, () => '+'), 'Enter', 'Enter');
  await page.getByText('The line begins on the outline.').waitFor();
  for (let i = 0; i < 4; i++) await press(page, 'Shift+ArrowRight', 'Shift+ArrowDown');
  await press(page, 'Enter');
  await expect.poll(() => page.getByRole('button', { name: 'Join the outline' }).isEnabled()).toBe(true);
  await press(page, 'Backspace');
  expect(await page.getByRole('button', { name: 'Join the outline' }).isEnabled()).toBe(false);
  await press(page, 'Enter');
  await expect.poll(() => page.getByRole('button', { name: 'Join the outline' }).isEnabled()).toBe(true);
  await press(page, 'j');
  await page.getByRole('button', { name: 'Undo: Follow the edge' }).waitFor();
  // The line went off the edge as it was led.
  expect(Math.abs(ringArea(await ringOf(page)) / ringArea(traced) - 1)).toBeLessThan(0.02);
  expect(await ringOf(page)).not.toEqual(traced);
  await press(page, 'Escape');
  expect(await page.getByRole('button', { name: 'Points', exact: true }).getAttribute('aria-pressed')).toBe('true');
});

test.runIf(process.env.SLOW)(
  'points are nudged by keys and buttons: one, a stretch, and softly with their neighbours',
  async () => {
    const page = await outlineOf();
    const traced = await ringOf(page);
    const drawing = page.getByRole('application');
    await drawing.focus();
    await press(page, 'n', 'n', 'n', 'ArrowDown', 'Shift+ArrowDown', 'Alt+ArrowDown');
    const one = await ringOf(page);
    expect(one[2]![1]).toBeCloseTo(traced[2]![1] + 11.1, 6);
    expect(one.filter((p, i) => distance(p, traced[i]!) > 1e-9)).toHaveLength(1);

    // From here to the third point on: all four go along.
    await press(page, 'r', 'n', 'n', 'n', 'ArrowUp');
    await page.getByText('4 points', { exact: true }).waitFor();
    const four = await ringOf(page);
    expect(four.filter((p, i) => distance(p, one[i]!) > 1e-9)).toHaveLength(4);
    for (const i of [2, 3, 4, 5]) expect(four[i]![1]).toBeCloseTo(one[i]![1] - 1, 6);

    // Let go, and softly by the buttons: neighbours come after, less and less.
    await tool(page, 'Let the stretch go');
    await tool(page, '60 mm');
    await tool(page, '10 mm');
    await tool(page, 'Move right');
    const soft = await ringOf(page);
    const [chosen] = soft.filter((p) => Math.abs(p[0] - (four[5]![0] + 10)) < 1e-6);
    expect(chosen).toBeDefined();
    const off = soft.map((p) => distanceToRing(p, four)).filter((d) => d > 1e-6);
    expect(off.length).toBeGreaterThan(2);
    expect(Math.max(...off)).toBeLessThanOrEqual(10 + 1e-6);
    for (let i = 0; i < 5; i++)
      await page.getByRole('button', { name: /^Undo: Move a (point|stretch) of the outline/ }).click();
    expect(await ringOf(page)).toEqual(traced);
    await page.getByRole('button', { name: /^Redo/ }).click();
    expect((await ringOf(page))[2]![1]).toBeCloseTo(traced[2]![1] + 1, 6);
  },
);

test('a stretch is smoothed, which says how far it moves the edge, and so does a brush along it', async () => {
  const page = await outlineOf();
  const traced = await ringOf(page);
  const toScreen = await onScreen(page);
  await tool(page, 'Smooth');
  const drawing = page.getByRole('application');
  await drawing.focus();
  await press(page, 'n', 'r', ...Array.from({ length: 12 }, () => 'n'));
  await tool(page, '80 mm');
  await page.getByText(/It moves the edge by up to \d/).waitFor();
  await tool(page, 'Smooth this stretch');
  await page.getByText(/Smoothed: the edge moved by up to \d/).waitFor();
  const stretch = await ringOf(page);
  expect(stretch).not.toEqual(traced);
  expect(distanceToRing(traced[0]!, stretch)).toBeLessThan(1e-3);
  expect(Math.abs(ringArea(stretch) / ringArea(traced) - 1)).toBeLessThan(0.005);
  await page.getByRole('button', { name: 'Undo: Smooth a stretch' }).click();

  // A brush over a dent that a shaky hand left.
  const xs = traced.map(([x]) => x);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const side = upperSide(traced, left, right);
  const place = side[nearest(side, [left + 0.4 * (right - left), 0])]!;
  await tool(page, 'Points');
  await page.mouse.move(...toScreen(place));
  await page.mouse.down();
  const [x, y] = toScreen(place);
  await page.mouse.move(x, y + 8, { steps: 3 });
  await page.mouse.up();
  const dented = await ringOf(page);
  const dent = Math.max(...dented.map((p) => distanceToRing(p, traced)));
  expect(dent).toBeGreaterThan(8);
  await tool(page, 'Smooth');
  await page.mouse.move(x - 20, y + 2);
  await page.mouse.down();
  for (let i = 0; i < 3; i++) {
    await page.mouse.move(x + 20, y + 2, { steps: 8 });
    await page.mouse.move(x - 20, y + 2, { steps: 8 });
  }
  await page.mouse.up();
  await page.getByRole('button', { name: 'Undo: Smooth the outline' }).waitFor();
  const brushed = await ringOf(page);
  expect(Math.max(...brushed.map((p) => distanceToRing(p, traced)))).toBeLessThan(0.8 * dent);
});

test.runIf(process.env.SLOW)(
  'strokes for wood and not wood are drawn, taken away one by one, and the outline is traced again by them',
  async () => {
    const page = await outlineOf();
    const traced = await ringOf(page);
    const toScreen = await onScreen(page);
    const ys = traced.map(([, y]) => y);
    const xs = traced.map(([x]) => x);
    const [left, right, middle] = [Math.min(...xs), Math.max(...xs), (Math.min(...ys) + Math.max(...ys)) / 2];
    await tool(page, 'Scribble');

    // By drag: the wood's middle is wood.
    await tool(page, 'Wood');
    await page.mouse.move(...toScreen([left + 0.3 * (right - left), middle]));
    await page.mouse.down();
    await page.mouse.move(...toScreen([left + 0.7 * (right - left), middle]), { steps: 6 });
    await page.mouse.up();
    // By taps: a stroke on the wood that says it is none, which is taken back; by keys: another.
    await tool(page, 'Not wood');
    await page.mouse.click(...toScreen([left + 100, middle - 40]));
    await page.mouse.click(...toScreen([left + 100, middle + 40]));
    await page.getByLabel('Take away stroke 2, not wood').waitFor();
    await page.getByRole('application').focus();
    await press(
      page,
      'w',
      'Enter',
      'Shift+ArrowRight',
      'Shift+ArrowRight',
      'Enter',
      'Shift+ArrowRight',
      'Shift+ArrowRight',
      'Enter',
    );
    await page.getByLabel('Take away stroke 3, wood').waitFor();
    expect((await savedFace(page)).strokes.map(({ kind }) => kind)).toEqual(['wood', 'not wood', 'wood']);
    await page.getByLabel('Take away stroke 3, wood').click();
    await page.getByLabel('Take away stroke 2, not wood').click();
    await page.getByRole('button', { name: 'Undo: Take a stroke away' }).waitFor();

    // An untouched outline is traced again without a question.
    await tool(page, 'Trace again');
    await page.getByText('Traced again: the edge moved by up to').waitFor({ timeout: 60_000 });
    const again = await savedFace(page);
    expect(Math.abs(ringArea(again.outline!.outer) / ringArea(traced) - 1)).toBeLessThan(0.02);
    expect(again.outlineByHand).toBe(false);

    // One that was edited by hand says so first, in place.
    await tool(page, 'Points');
    await page.getByRole('application').focus();
    await press(page, 'n');
    for (let i = 0; i < 3; i++) await press(page, 'Shift+ArrowDown', 'Shift+ArrowRight');
    const byHand = await ringOf(page);
    await tool(page, 'Scribble');
    await page.getByText('Your edits along the edge will be replaced.').waitFor();
    await tool(page, 'Trace again, replace my edits');
    await page.getByRole('button', { name: 'Undo: Trace again' }).waitFor({ timeout: 60_000 });
    expect(distanceToRing(byHand[0]!, await ringOf(page))).toBeGreaterThan(10);
    await page.getByRole('button', { name: 'Undo: Trace again' }).click();
    expect(await ringOf(page)).toEqual(byHand);
  },
);

test('under a finger a glass shows the place beside it, and goes with it', async () => {
  const page = await outlineOf({ viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true });
  const touch = await page.context().newCDPSession(page);
  const traced = await ringOf(page);
  const toScreen = await onScreen(page);
  const glass = page.locator('.glass');
  const [x, y] = toScreen(traced[Math.floor(traced.length / 3)]!);
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', points: { x: number; y: number }[]) =>
    touch.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  expect(await glass.isVisible()).toBe(false);
  await send('touchStart', [{ x, y }]);
  for (let i = 1; i <= 12; i++) {
    await send('touchMove', [{ x: x + i, y: y - 2 * i }]);
    await glass.waitFor({ state: 'visible' });
    const seen = (await glass.boundingBox())!;
    const [dx, dy] = [seen.x + seen.width / 2 - (x + i), seen.y + seen.height / 2 - (y - 2 * i)];
    // A finger is 22 px either way.
    expect(Math.hypot(dx, dy)).toBeGreaterThan(seen.width / 2 + 22);
  }
  // It shows a picture: not one colour.
  const colours = await glass.evaluate((canvas: HTMLCanvasElement) => {
    const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
    const seen = new Set<number>();
    for (let i = 0; i < data.length; i += 4)
      seen.add((data[i]! >> 4) * 256 + (data[i + 1]! >> 4) * 16 + (data[i + 2]! >> 4));
    return seen.size;
  });
  expect(colours).toBeGreaterThan(8);
  await send('touchEnd', []);
  await glass.waitFor({ state: 'hidden' });
  expect(await ringOf(page)).not.toEqual(traced);
  // A mouse hides nothing and gets no glass.
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 5, y + 9, { steps: 3 });
  expect(await glass.isVisible()).toBe(false);
  await page.mouse.up();
});

test('on a phone every tool fits: 44 px high, nothing sideways, nothing on the drawing', async () => {
  const page = await outlineOf({ viewport: { width: 390, height: 844 }, hasTouch: true });
  for (const name of ['Points', 'Follow', 'Smooth', 'Scribble']) {
    await tool(page, name);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll('button, select, input, summary, a')]
        .map((e) => ({ e, box: (e.closest('label') ?? e).getBoundingClientRect() }))
        .filter(({ box }) => box.height > 0 && (box.height < 43.5 || box.width < 43.5))
        .map(({ e, box }) => `${e.outerHTML.slice(0, 80)} ${box.width} x ${box.height}`),
    );
    expect(small).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    const box = (await page.getByRole('application').boundingBox())!;
    const covered = await page.evaluate(({ x, y, width, height }) => {
      const over = new Set<string>();
      for (let i = 1; i < 12; i++)
        for (let j = 1; j < 12; j++) {
          const e = document.elementFromPoint(x + (i / 12) * width, y + (j / 12) * height);
          if (e && !e.closest('.sheet-host')) over.add(e.outerHTML.slice(0, 80));
        }
      return [...over];
    }, box);
    expect(covered.filter((html) => !html.includes('role="status"'))).toEqual([]);
  }
});
