import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import { type Job, readJob, readJobFile } from '../../src/job';
import { boardReports, checkPlan, planReport, setReport } from '../../src/plan';
import { InputProblem } from '../../src/units';
import { without } from '../support/dangling';
import { everyStageJobFile } from '../support/every-stage-job';

/** A job from which things are gone that others name, as a hand or a bad merge leaves it. */

let job: Job;
beforeAll(async () => {
  job = (await readJobFile(new Uint8Array(await everyStageJobFile()))).job;
});

/** What it says, or a refusal that a maker can do something with. */
function met(compute: () => unknown): void {
  try {
    compute();
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    expect(error.mend).toMatch(/\.$/);
    expect(error.message).toMatch(/^[^"]*\w.*\.$/);
    expect(error.message).not.toMatch(/""|undefined|null|NaN/);
  }
}

it('is computed as far as it goes, or refused with the mend, whatever is gone', () => {
  fc.assert(
    fc.property(fc.array(fc.nat(), { minLength: 1, maxLength: 4 }), (picks) => {
      const rest = readJob(without(job, picks));
      for (const plan of Object.values(rest.plans)) {
        met(() => checkPlan(rest, plan));
        met(() => planReport(rest, plan));
      }
      for (const set of Object.values(rest.sets)) met(() => setReport(rest, set));
      met(() => boardReports(rest));
    }),
    { numRuns: process.env.SLOW ? 200 : 4 },
  );
});

it('a plan whose log is gone says so, and one whose slab is gone is at fault', () => {
  const [plan] = Object.values(job.plans);
  if (!plan) throw new Error('the job has a plan');
  const logless = { ...job, flitches: {} };
  expect(() => planReport(logless, plan)).toThrow('from a log that is not in the job any more');
  const bare = structuredClone(job);
  for (const flitch of Object.values(bare.flitches)) flitch.slabs = {};
  expect(planReport(bare, plan).verdict.faults.map(({ rule }) => rule)).toContain('gone');
});
