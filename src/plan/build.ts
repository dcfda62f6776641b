import { type Job, type Plan, wantedTop } from '../job';
import type { Memo } from '../surface';
import { InputProblem } from '../units';
import { boardReports } from './boards';
import { checkPlan } from './check';
import { checkSlabs } from './check-areas';
import { costOf } from './cost';
import { keyBlanks } from './key-blanks';
import { workOrder } from './order';
import type { PlanReport } from './report';
import { keptSetReports } from './set-report';
import { slabReports } from './slabs';
import { sledWork } from './sled-work';
import { topReports } from './tops';
import { woodReport } from './wood-facts';

/**
 * The whole job computed for one plan. Deterministic: same job and plan, same report.
 * @param memo keeps what a slab's surfaces do not owe to the heights read, for the next time
 * @throws InputProblem when a log that the plan cuts is gone, or a shop setting makes a part of it impossible (a bushing no wider than its bit, say)
 */
export function planReport(job: Job, plan: Plan, memo?: Memo): PlanReport {
  refuseGoneLogs(job, plan);
  const tops = topReports(job, plan);
  const slabs = slabReports(job, plan, tops, memo);
  const boards = boardReports(job);
  const faults = [...checkPlan(job, plan).faults, ...checkSlabs(slabs)];
  const { id, name, date, units, currency, printed } = job;
  return {
    job: { id, name, date, units, currency, ...(printed && { printed }) },
    plan: { id: plan.id, name: plan.name, gap: plan.gap, waste: plan.waste },
    tops,
    slabs,
    boards,
    sets: keptSetReports(job),
    misses: plan.misses,
    keyBlanks: keyBlanks(job, tops, slabs),
    cost: costOf(job, slabs, boards, tops),
    order: workOrder(job, tops, slabs, boards),
    wood: woodReport(job, slabs, tops),
    sledWork: sledWork(job, slabs),
    verdict: { passed: faults.length === 0, faults },
  };
}

/** Without its log neither species nor moisture of a strip is known: nothing of the plan could be computed. A slab alone that is gone is a fault of the plan. */
function refuseGoneLogs(job: Job, plan: Plan): void {
  for (const { top, strips } of Object.values(plan.placements)) {
    const name = wantedTop(job, top)?.name;
    if (name !== undefined && strips.some(({ flitch }) => !job.flitches[flitch]))
      throw new InputProblem(
        `${plan.name} cuts ${name} from a log that is not in the job any more.`,
        `/plans/${plan.id}/placements/${top}`,
        'Lay the tops out again, or undo what took the log out.',
      );
  }
}
