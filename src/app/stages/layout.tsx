import type { Job } from '../../job';
import type { StageMark, StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** Plans are proposed when every slab has an outline and there is a top. */
export function Layout({ store }: StageProps) {
  return (
    <StageLayout title="Layout" drawing={<div class="empty-sheet" />} facts={<p>{markOf(store.job.value).says}</p>} />
  );
}

const markOf = (job: Job): StageMark => ({ done: false, says: job.keptPlan ? 'plan kept' : 'no plan kept yet' });

export { markOf as layoutMark };
