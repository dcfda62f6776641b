import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, inject, test } from 'vitest';
import type { Licence } from '../../src/app/licences/licence';
import { useApp } from '../support/app';

const app = useApp();

/** Dependencies of the command line, of which nothing is in the app. */
const COMMAND_LINE = ['@valibot/to-json-schema', 'jsonc-parser', 'sharp', 'tsx'];

test('every package of which something is shipped is listed with its licence, in the app and in the README', async () => {
  const folder = inject('appFolder');
  const list: Licence[] = JSON.parse(readFileSync(join(folder, 'licences.json'), 'utf8'));
  const names = list.map(({ name }) => name);

  const asked: Record<string, string> = JSON.parse(readFileSync('package.json', 'utf8')).dependencies;
  // Under an alias stands another name.
  const shipped = Object.entries(asked).map(([name, version]) => /^npm:(.+)@/.exec(version)?.[1] ?? name);
  expect(names).toEqual(expect.arrayContaining(shipped.filter((name) => !COMMAND_LINE.includes(name))));
  const worker = readdirSync(folder).filter((file) => /^(workbox|sw)/.test(file));
  const parts = worker.flatMap((file) => readFileSync(join(folder, file), 'utf8').match(/workbox:[a-z-]+/g) ?? []);
  expect(parts.length).toBeGreaterThan(0);
  expect(names).toEqual(expect.arrayContaining(parts.map((part) => part.replace(':', '-'))));

  for (const { name, licence } of list) expect(licence, name).toMatch(/\w/);
  const readme = readFileSync('README.md', 'utf8').replace(/\s+/g, ' ');
  for (const { name, licence } of list) expect(readme).toContain(`${name} (${licence})`);

  const page = await app.open();
  await page.getByRole('button', { name: 'Licences' }).click();
  const sheet = page.getByRole('region', { name: 'Licences' });
  await sheet.locator('summary', { hasText: 'fabric' }).click();
  await sheet.getByText('Printio').waitFor();
  expect(await sheet.locator('summary').count()).toBe(list.length);
  await sheet.getByRole('button', { name: 'Close' }).click();
  await sheet.waitFor({ state: 'detached' });
});
