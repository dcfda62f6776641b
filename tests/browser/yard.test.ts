import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name });

/** What a buyer tapes of a slab on the rack, as it is typed, and what the yard wants for it. */
const RACK = [
  { price: '240', length: '2.6 m', width: '420' },
  { price: '260', length: '8\' 6 1/2"', width: '16 15/16 in' },
  { price: '190', length: '2600', width: '380' },
  { price: '90', length: '2600', width: '150' },
];

async function type(page: Page, label: RegExp, text: string): Promise<void> {
  const field = page.getByLabel(label).first();
  await field.tap();
  await field.fill(text);
}

/** As a stranger would at the yard, by thumb: slabs are taped, each is told at once, then ranked, and two of them bought. */
test('slabs that were taped are told at once, ranked, and the best set is bought; none of it leads to a cutting map', {
  timeout: 60_000,
}, async () => {
  const page = await app.open({
    ...{ locale: 'en-GB', viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
  });
  await button(page, 'New job').tap();
  await button(page, 'Type a slab on offer').tap();
  await button(page, 'Say what top you want').tap();
  await button(page, /^Next: see what to buy/).tap();
  const verdicts = page.locator('.tape-verdicts');
  for (const [i, { price, length, width }] of RACK.entries()) {
    if (i > 0) await button(page, 'Next slab').tap();
    await type(page, /^Length/, length);
    if (i === 1) await expect.poll(() => page.locator('.read').textContent()).toMatch(/= 2603\.5\smm = 102\s½"/);
    for (const place of ['left end', 'middle', 'right end']) await type(page, new RegExp(`^Width, ${place}`), width);
    // Said while the field is still in hand: nothing needs to be pressed.
    await expect.poll(() => verdicts.textContent(), { timeout: 10_000 }).toContain(`Slab ${i + 1}: too narrow by`);
    for (const edge of ['left front', 'left back', 'right front', 'right back'])
      await type(page, new RegExp(`^Edge, ${edge}`), '60');
    await type(page, /^Bow/, '0');
    await type(page, /^Price/, price);
    if (i === 1)
      await expect
        .poll(() => verdicts.textContent(), { timeout: 10_000 })
        .toMatch(/Slab 1 \+ Slab 2: this pair (may )?gives? it|Slab 2 \+ Slab 1: this pair (may )?gives? it/);
    expect(await page.locator('figcaption').textContent()).toMatch(/from a tape only: edges ±30\smm/);
  }
  await button(page, 'Done').tap();
  await button(page, 'Rank the slabs').tap();
  const verdict = page.locator('.note', { hasText: /^Buy / });
  await expect
    .poll(() => verdict.first().textContent(), { timeout: 40_000 })
    .toMatch(/No other single slab or pair ranks higher/);

  // The three pairs that are wide enough, the best first; a narrow slab is in none of them.
  const first = page.locator('.yard-sets > li').first();
  expect(await first.locator('.yard-name').textContent()).toMatch(/^Slab [123] \+ Slab [123]$/);
  expect(await first.locator('.yard-set').textContent()).toMatch(/EUR\/m² \(.*EUR\/ft²\)/);
  expect(await first.locator('.yard-facts').textContent()).toMatch(
    /If Slab [123] is sold, this fails; the next best is Slab [123] \+ Slab [123]/,
  );
  expect(await button(page, 'Look further').count()).toBe(0);

  const name = (await first.locator('.yard-name').textContent()) ?? '';
  await button(page, `Mark ${name} as bought`).tap();
  await expect.poll(() => page.getByText('Yours: it costs nothing more').count()).toBe(2);
  await page.getByRole('link', { name: /Cutting map/ }).click();
  await page
    .getByText(/known from a tape alone/)
    .first()
    .waitFor();
});
