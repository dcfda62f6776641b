import type { Job } from '../../job';
import type { StageMark, StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** The cutting map is drawn from a kept plan. */
export function CuttingMap({ store }: StageProps) {
  return (
    <StageLayout
      title="Cutting map"
      drawing={<div class="empty-sheet" />}
      facts={<p>{markOf(store.job.value).says}</p>}
    />
  );
}

const markOf = (job: Job): StageMark => ({ done: false, says: job.keptPlan ? 'plan kept' : 'no plan kept yet' });

export { markOf as mapMark };
