import type { Job, Plan } from '../job';
import { type Pictures, type ProposeOptions, proposePlans } from '../layout';
import type { Control, Highs } from '../search';
import { checkPlan } from './check';

/**
 * Plans for the job's tops, every one passed by the independent checker: a place that it does not pass is let go, and said where a top is lost by it.
 * Otherwise as `proposePlans`.
 * @throws InputProblem when the job wants no top
 * @throws Cancelled when the caller stops it, unless it hears plans as they come and has heard one
 */
export function proposals(
  job: Job,
  pictures: Pictures,
  highs: Highs,
  control: Control,
  options: Omit<ProposeOptions, 'check'> = {},
): Promise<Plan[]> {
  const check: ProposeOptions['check'] = ({ placements, misses }) =>
    checkPlan(job, { id: 'plan', name: '', placements, misses, waste: 0, cost: null, gap: 0 }).faults;
  return proposePlans(job, pictures, highs, control, { ...options, check });
}
