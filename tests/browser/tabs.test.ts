import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

const name = (page: Page) => page.getByLabel('Name of the job');
const follows = (page: Page) => page.getByText('open in another tab');
async function rename(page: Page, to: string): Promise<void> {
  await name(page).fill(to);
  await name(page).press('Enter');
}
const shows = (page: Page, text: string) => expect.poll(() => name(page).inputValue(), { timeout: 10_000 }).toBe(text);

test('of two tabs one edits, the other follows, takes over, and is left alone when the first is closed', async () => {
  const first = await app.open();
  await first.getByRole('button', { name: 'New job' }).click();
  await name(first).waitFor();
  const second = await first.context().newPage();
  await second.goto(first.url());
  await follows(second).waitFor();

  await rename(first, 'Bench of the first');
  await shows(second, 'Bench of the first');
  await rename(second, 'Bench of the second');
  await second.getByText('nothing was changed here').waitFor();
  await shows(second, 'Bench of the first');

  await second.getByRole('button', { name: 'Edit here instead' }).click();
  await follows(first).waitFor();
  await follows(second).waitFor({ state: 'detached' });
  await rename(second, 'Bench of the second');
  await shows(first, 'Bench of the second');
  expect(await second.getByRole('button', { name: 'Undo: Rename the job' }).isEnabled()).toBe(true);

  await second.close();
  await follows(first).waitFor({ state: 'detached' });
  await rename(first, 'Bench of both');
  await first.getByText('Saved here').waitFor();
  await first.reload();
  await shows(first, 'Bench of both');
});

test('a tab that hangs while it edits loses the job to the one that asks, and overwrites nothing when it wakes', async () => {
  const hung = await app.open();
  await hung.getByRole('button', { name: 'New job' }).click();
  await name(hung).waitFor();
  const second = await hung.context().newPage();
  await second.goto(hung.url());
  await follows(second).waitFor();
  const asleep = hung.evaluate(() => {
    const until = performance.now() + 5000;
    while (performance.now() < until);
  });
  await second.getByRole('button', { name: 'Edit here instead' }).click();
  await follows(second).waitFor({ state: 'detached' });
  await rename(second, 'Went on');
  await second.getByText('Saved here').waitFor();
  await asleep;
  await follows(hung).waitFor();
  await shows(hung, 'Went on');
});
