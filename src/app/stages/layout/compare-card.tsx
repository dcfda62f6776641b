import type { Plan } from '../../../job';
import { Choices } from '../../parts/choices';
import type { PlanView } from '../../plan-view';
import { layoutLook } from './look';

/** What stands for the plan that was kept before, among the ids of plans. */
export const KEPT_BEFORE = 'kept before';

/** Chooses the plan that the one in view is shown beside. */
export function CompareCard({ view, plan }: { view: PlanView; plan: Plan }) {
  const look = layoutLook(view);
  const others = view.plans.value.filter(({ id }) => id !== plan.id);
  const before = view.keptBefore.value;
  if (others.length === 0 && !before) return null;
  return (
    <fieldset class="card stack">
      <legend>Beside {plan.name}</legend>
      <Choices
        label={`Show ${plan.name} beside`}
        options={[
          ['', 'alone'],
          ...others.map(({ id, name }) => [id, name] as const),
          ...(before ? [[KEPT_BEFORE, `${before.plan.name} kept before`] as const] : []),
        ]}
        value={look.comparedId.value ?? ''}
        onChange={(id) => {
          look.comparedId.value = id || null;
        }}
      />
    </fieldset>
  );
}
