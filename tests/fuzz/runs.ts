import { expect } from 'vitest';
import { InputProblem } from '../../src/units';

/** Inputs of each kind: `FUZZ=10000` is the nightly run. */
export const RUNS = Number(process.env.FUZZ ?? 500);

/** What a test of so many runs may take, ms. */
export const LONG = { timeout: 60_000 + RUNS * 60 };

/** Longest that one input may hold anybody up, ms: far above what any takes on a busy machine, far below what seems hung. */
const MOST_MS = 3000;

/** A sentence is read, not scrolled: longest of a problem's parts, characters. */
const MOST_SAID = 400;

/**
 * What `read` gives for an input of a stranger; null where it was refused.
 * @throws unless it gave a value or refused it clearly, with a mend, in bearable time
 */
export async function metWith<T>(read: () => T | Promise<T>): Promise<T | null> {
  const begun = performance.now();
  try {
    return await read();
  } catch (problem) {
    if (!(problem instanceof InputProblem)) throw problem;
    const { message, mend } = problem;
    for (const said of [message, mend]) {
      expect(said).toMatch(/[.?]$/);
      expect(said.length).toBeLessThan(MOST_SAID);
    }
    return null;
  } finally {
    expect(performance.now() - begun).toBeLessThan(MOST_MS);
  }
}
