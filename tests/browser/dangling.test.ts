import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { type Job, namedFiles, readJobFile, writeJobFile } from '../../src/job';
import { seededRandom } from '../../src/search';
import { useApp } from '../support/app';
import { membersOf, without } from '../support/dangling';
import { everyStageJobFile } from '../support/every-stage-job';

const app = useApp();

const STAGES = [/Stock/, /Tops and doors/, /Layout/, /Flattening/, /Keys/, /Leaves/, /Cutting map/];
/** Jobs with up to four things gone by chance, besides those with one of each kind. */
const BY_CHANCE = 12;

/** One job for every kind of member, that of which the first is gone; and some with several gone. */
function danglingJobs(job: Job): Job[] {
  const members = membersOf(job);
  const kinds = new Map(members.map((path, i) => [path.filter((_, k) => k % 2 === 0).join('/'), i]));
  const random = seededRandom(9);
  const some = () => Array.from({ length: 1 + random.below(4) }, () => random.below(10_000));
  return [...[...kinds.values()].map((i) => [i]), ...Array.from({ length: BY_CHANCE }, some)].map((picks) =>
    without(job, picks),
  );
}

/** What a stage shows once it has come to rest. */
async function shown(page: Page, stage: RegExp): Promise<string> {
  await page.getByRole('link', { name: stage }).click();
  await page.locator('.stage-facts, .empty-sheet').first().waitFor();
  await expect.poll(() => page.getByText(/Computing the plan …/).count(), { timeout: 60_000 }).toBe(0);
  return (await page.locator('main').textContent()) ?? '';
}

test.runIf(process.env.SLOW)(
  'a job from which things are gone that others name opens, and every stage shows what is left or says what to do',
  { timeout: 1_800_000 },
  async () => {
    const file = await readJobFile(new Uint8Array(await everyStageJobFile()));
    const page = await app.open({ locale: 'en-GB', viewport: { width: 1280, height: 800 } });
    for (const [i, job] of danglingJobs(file.job).entries()) {
      const named = { ...job, id: `dangling-${i}`, name: `Dangling ${i}` };
      const names = namedFiles(named);
      const files = new Map([...file.files].filter(([name]) => names.includes(name)));
      const buffer = Buffer.from(await writeJobFile({ job: named, files }));
      await page.goto('/');
      await page
        .getByLabel('Open a job file')
        .setInputFiles({ name: `${named.name}.zip`, mimeType: 'application/zip', buffer });
      await page.getByRole('link', { name: /Layout/ }).waitFor({ timeout: 30_000 });
      for (const stage of STAGES)
        expect(await shown(page, stage), `${named.name}: ${stage}`).not.toContain('Something went wrong in the app');
    }
  },
);
