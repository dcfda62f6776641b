import { expect, inject, test } from 'vitest';
import { killAndLook, killWhileAdding } from '../support/kills';

/** Times that a browser is killed; the nightly run does 200. */
const KILLS = Number(process.env.KILLS ?? (process.env.SLOW ? 20 : 2));

const LONG = { timeout: KILLS * 30_000 + 60_000 };

test(
  'a browser that is killed in the middle of the work loses at most its last second, and never the job',
  LONG,
  async () => {
    const moments = Array.from({ length: KILLS }, (_, i) => 300 + ((i * 1237) % 2200));
    for (const { due, there, whole } of await killAndLook(inject('appUrl'), moments)) {
      expect(there).toBeGreaterThanOrEqual(due);
      expect(whole).toBe(true);
    }
  },
);

test.runIf(process.env.SLOW || process.env.KILLS)(
  'a browser that is killed while a photo comes in never leaves a job that names a file that is not whole',
  LONG,
  async () => {
    // The first moment is long enough for the photo to be stored on any machine that the rest can be judged on.
    const moments = Array.from({ length: Math.ceil(KILLS / 2) }, (_, i) => (i === 0 ? 6000 : (i * 1237) % 7000));
    const left = await killWhileAdding(inject('appUrl'), 'demo-images/slab-2.jpg', moments);
    for (const { broken, jobs, due } of left) {
      expect(broken).toEqual([]);
      expect(jobs).toBeGreaterThanOrEqual(due);
    }
    expect(left.at(-1)?.named).toBeGreaterThan(0);
  },
);
