import { planView } from '../plan-view';
import { go, jobAddress } from '../route';
import type { JobStore } from '../store';

/** What stands in a stage that has nothing to show before a plan is there, with the way to one. */
export function NeedsPlan({ store }: { store: JobStore }) {
  const view = planView(store);
  const planned = view.plan.value !== null;
  return (
    <div class="empty-sheet">
      <p>
        {planned
          ? (view.trouble.value?.message ?? 'Computing the plan …')
          : 'This follows from a plan. Lay out the tops first.'}
      </p>
      {!planned && (
        <button type="button" class="button main" onClick={() => go(jobAddress(store.id, 'layout'))}>
          Go to Layout
        </button>
      )}
    </div>
  );
}
