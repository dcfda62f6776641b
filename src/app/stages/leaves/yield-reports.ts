import type { Job } from '../../../job';
import { type BoardReport, boardReports } from '../../../plan';

const known = new WeakMap<Job, readonly BoardReport[]>();

/** What the boards of a job yield, worked out once as long as the job stays as it is: a warped board takes some hundredths of a second. */
export function reportsOf(job: Job): readonly BoardReport[] {
  const reports = known.get(job) ?? boardReports(job);
  known.set(job, reports);
  return reports;
}
