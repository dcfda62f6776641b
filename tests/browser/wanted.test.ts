import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

/** A new job with one top, its fields of a kind opened. */
async function topWith(label: string, viewport = { width: 1280, height: 850 }): Promise<Page> {
  const page = await app.open({ locale: 'en-GB', viewport });
  await page.getByRole('button', { name: 'New job' }).click();
  await page.getByRole('link', { name: /Tops and doors/ }).click();
  await page.getByRole('button', { name: 'Add a top' }).first().click();
  await page.locator('summary', { hasText: label }).click();
  return page;
}

const field = (page: Page, label: string) => page.getByLabel(label, { exact: true });
async function type(page: Page, label: string, text: string): Promise<void> {
  await field(page, label).fill(text);
  await page.keyboard.press('Enter');
}

test('a hole is typed, moved by keys on the drawing, and refused beside its fields where it lies outside the top', async () => {
  const page = await topWith('Hidden parts, seams and holes');
  await page.getByRole('button', { name: 'Add a hole' }).click();
  await type(page, 'From the left-hand end (mm)', '300');
  await page.getByRole('application').focus();
  await page.keyboard.press('n');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowUp');
  expect(await field(page, 'From the left-hand end (mm)').inputValue()).toBe('301');
  expect(await field(page, 'From the front (mm)').inputValue()).toBe('160');
  expect(await page.getByRole('alert').count()).toBe(0);
  await type(page, 'From the left-hand end (mm)', '2000');
  expect(await page.getByRole('alert').textContent()).toContain('outside the top by up to');
  await page.getByRole('button', { name: /^Undo/ }).click();
  expect(await page.getByRole('alert').count()).toBe(0);
});

test('corners of a shape are read as they are typed, and an outline that crosses itself is refused by the field', async () => {
  const page = await topWith('Shape', { width: 390, height: 844 });
  await field(page, 'Shape').selectOption('polygon');
  const corners = 'Corners, each as far from the left and from the front (mm)';
  await type(page, corners, '0, 0; 1000, 600; 1000, 0; 0, 600');
  expect(await page.getByRole('alert').textContent()).toContain('crosses itself');
  await type(page, corners, '0, 0; 1000, 0; 1000, 600; 0, 400');
  expect(await page.getByRole('alert').count()).toBe(0);
  expect(await field(page, corners).inputValue()).toBe('0, 0; 1000, 0; 1000, 600; 0, 400');
});
