import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name });

async function type(page: Page, label: RegExp, text: string): Promise<void> {
  await page.getByLabel(label).first().fill(text);
  await page.keyboard.press('Enter');
}

/** What a buyer tapes of a slab on the rack, mm, and what the yard wants for it. */
const RACK = [
  { price: '240', width: '420' },
  { price: '260', width: '430' },
  { price: '190', width: '380' },
  { price: '90', width: '150' },
];

/** As a stranger would at the yard: four slabs are taped, ranked, and two of them bought. */
test('four slabs that were taped are ranked; what fails if one is sold is said; the best set is bought', {
  timeout: 60_000,
}, async () => {
  const page = await app.open({ locale: 'en-GB', viewport: { width: 390, height: 844 } });
  await button(page, 'New job').click();
  await page.getByRole('link', { name: /Tops and doors/ }).click();
  await button(page, 'Add a top').first().click();
  await page.getByRole('link', { name: /Layout/ }).click();
  await button(page, 'Which slabs to buy').click();
  for (const { price, width } of RACK) {
    await button(page, 'Add a slab on offer').click();
    await type(page, /^Price/, price);
    await type(page, /^Length/, '2600');
    await type(page, /^Width at the middle/, width);
    for (const end of ['left end, front edge', 'right end, back edge'])
      await type(page, new RegExp(`^Thickness, ${end}`), '60');
    await type(page, /^Bow/, '0');
  }
  await button(page, 'Rank the slabs').click();
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
  await button(page, `Mark ${name} as bought`).click();
  await expect.poll(() => page.getByText('Yours: it costs nothing more').count()).toBe(2);
});
