import type { Page } from 'playwright';
import sharp from 'sharp';
import { expect, test } from 'vitest';
import { useApp } from '../support/app';

const app = useApp();

const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name, exact: true });

/** Sizes of the leaves in the demo job's photos, mm (demo-images/README.md). */
const LEAF = [1200, 250] as const;

test.runIf(process.env.SLOW)(
  'four leaves in one photo are measured and numbered; two that changed places are found by their figure and put right',
  {
    timeout: 120_000,
  },
  async () => {
    const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 900 } });
    await button(page, 'New job').click();
    await button(page, /^Boards/).click();
    await button(page, 'Add a board').click();
    await page.getByLabel('Add photos of leaves').setInputFiles({
      name: 'leaves.jpg',
      mimeType: 'image/jpeg',
      buffer: await sharp('demo-images/leaves-1-4.jpg').resize(1600).jpeg({ quality: 88 }).toBuffer(),
    });
    await page.getByText('4 leaves, outer faces up.').waitFor({ timeout: 90_000 });

    // The second goes before the first, as if they had been laid so.
    await button(page, 'Leaf 2 earlier').click();
    await button(page, 'Undo: Number the leaves').waitFor();
    await button(page, 'Leaf 3').click();
    const says = (await page.getByText(/ long, .* wide over all/).textContent())!;
    const [length, width] = says.match(/[\d.]+/g)!.map(Number);
    expect(Math.abs(length! - LEAF[0])).toBeLessThan(5);
    expect(Math.abs(width! - LEAF[1])).toBeLessThan(3);

    await button(page, '‹ All boards').click();
    await button(page, 'Check the order by their figure').click();
    await button(page, 'Number them by their figure').click({ timeout: 90_000 });
    await button(page, 'Check the order by their figure').click();
    await page.getByText('Their figure goes on from each leaf').first().waitFor({ timeout: 90_000 });
  },
);
