import { TroubleNote } from '../parts/problem';
import { planView } from '../plan-view';
import { go, jobAddress } from '../route';
import type { JobStore } from '../store';
import { OnlyTaped } from './yard/only-taped';

/** What stands in a stage that has nothing to show before a plan is there, with the way to one. */
export function NeedsPlan({ store }: { store: JobStore }) {
  const view = planView(store);
  const planned = view.plan.value !== null;
  const trouble = planned ? view.trouble.value : null;
  return (
    <div class="empty-sheet">
      {trouble ? (
        <TroubleNote trouble={trouble} />
      ) : (
        <p>{planned ? 'Computing the plan …' : 'This follows from a plan. Lay out the tops first.'}</p>
      )}
      {!planned && <OnlyTaped job={store.job.value} />}
      {(!planned || trouble) && (
        <button type="button" class="button" onClick={() => go(jobAddress(store.id, 'layout'))}>
          Go to Layout
        </button>
      )}
    </div>
  );
}
