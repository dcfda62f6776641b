import type { Job, Plan, Top } from '../job';
import { firstTop, type Pictures, type ProposeOptions, proposePlans, type WouldDo, wouldDo } from '../layout';
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
  return proposePlans(job, pictures, highs, control, { ...options, check: checkerOf(job) });
}

/** What the independent checker says of places for a job. */
const checkerOf =
  (job: Job): NonNullable<ProposeOptions['check']> =>
  ({ placements, misses }) =>
    checkPlan(job, { id: 'plan', name: '', placements, misses, waste: 0, cost: null, gap: 0 }).faults;

/**
 * The first top of a job, sized to its slabs (layout/first-top.ts).
 * @throws Cancelled
 */
export const proposedTop = (job: Job, id: string, control: Control): Promise<Top> =>
  firstTop(job, id, checkerOf, control);

/**
 * What would do in the place of a top that a plan misses (layout/would-do.ts).
 * @throws Cancelled
 */
export const wouldDoFor = (job: Job, plan: Plan, top: string, control: Control): Promise<WouldDo[]> =>
  wouldDo(job, plan, top, checkerOf, control);
