import { TroubleNote } from '../parts/problem';
import { planView } from '../plan-view';
import { go, jobAddress } from '../route';
import type { JobStore } from '../store';
import { OnlyTaped } from './yard/only-taped';

/** What stands in a stage that has nothing to show before a plan is there, with the way to one. */
export function NeedsPlan({ store }: { store: JobStore }) {
  const view = planView(store);
  const plan = view.plan.value;
  const planned = plan !== null;
  const trouble = planned ? view.trouble.value : null;
  // It is computed, and yet there is nothing to show: it gave none, or what it was planned for is gone.
  const bare = planned && view.computed.value?.plan === plan;
  return (
    <div class="empty-sheet">
      {trouble ? (
        <TroubleNote trouble={trouble} />
      ) : (
        <p>
          {bare
            ? `${plan.name} has none of the tops that are wanted. Lay them out again, or change what is wanted.`
            : planned
              ? 'Computing the plan …'
              : 'This follows from a plan. Lay out the tops first.'}
        </p>
      )}
      {!planned && <OnlyTaped job={store.job.value} />}
      {(!planned || trouble || bare) && (
        <button type="button" class="button" onClick={() => go(jobAddress(store.id, 'layout'))}>
          Go to Layout
        </button>
      )}
    </div>
  );
}
