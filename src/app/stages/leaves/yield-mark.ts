import type { Job } from '../../../job';
import type { StageMark } from '../stage';
import { reportsOf } from './yield-reports';

/** What stands under the stage's name where there are boards. Fetched when it is first asked for: counting leaves takes the flattening room. */
export function boardsMark(job: Job): StageMark {
  const reports = reportsOf(job);
  const leaves = reports.reduce((sum, report) => sum + report.leaves, 0);
  const last = reports.at(-1);
  const short = last !== undefined && last.wanted > last.given;
  const count = leaves === 1 ? '1 leaf' : `${leaves} leaves`;
  return { done: !short, says: short ? `${count}, too few` : count };
}
