import { expect, inject, test } from 'vitest';
import { killAndLook } from '../support/kills';

/** Times that a browser is killed; the nightly run does 200. */
const KILLS = Number(process.env.KILLS ?? (process.env.SLOW ? 20 : 2));

test('a browser that is killed in the middle of the work loses at most its last second, and never the job', {
  timeout: KILLS * 30_000 + 60_000,
}, async () => {
  const moments = Array.from({ length: KILLS }, (_, i) => 300 + ((i * 1237) % 2200));
  for (const { due, there, whole } of await killAndLook(inject('appUrl'), moments)) {
    expect(there).toBeGreaterThanOrEqual(due);
    expect(whole).toBe(true);
  }
});
