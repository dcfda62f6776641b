import type { Job } from '../../job';
import type { StageMark, StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** Leaves are counted from boards and doors. */
export function Leaves({ store }: StageProps) {
  return (
    <StageLayout title="Leaves" drawing={<div class="empty-sheet" />} facts={<p>{markOf(store.job.value).says}</p>} />
  );
}

const markOf = (job: Job): StageMark => ({ done: false, says: job.keptPlan ? 'plan kept' : 'no plan kept yet' });

export { markOf as leavesMark };
