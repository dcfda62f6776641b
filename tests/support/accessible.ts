import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright';
import { expect } from 'vitest';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What stands on a page is met by axe-core with nothing to say against it, on light paper and on dark. */
export async function expectAccessible(page: Page): Promise<void> {
  for (const colorScheme of ['dark', 'light'] as const) {
    await page.emulateMedia({ colorScheme });
    await page.evaluate(AXE);
    const { violations } = await page.evaluate(
      (rules): Promise<AxeResults> => Reflect.get(window, 'axe').run(document, { runOnly: rules }),
      RULES,
    );
    const said = violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 200)}`));
    expect(said, colorScheme).toEqual([]);
  }
}
