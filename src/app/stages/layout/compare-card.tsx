import type { Plan } from '../../../job';
import { Choices } from '../../parts/choices';
import type { PlanView } from '../../plan-view';
import { layoutLook } from './look';

/** Chooses the plan that the one in view is shown beside. */
export function CompareCard({ view, plan }: { view: PlanView; plan: Plan }) {
  const look = layoutLook(view);
  const others = view.plans.value.filter(({ id }) => id !== plan.id);
  if (others.length === 0) return null;
  return (
    <fieldset class="card stack">
      <legend>Beside {plan.name}</legend>
      <Choices
        label={`Show ${plan.name} beside`}
        options={[['', 'alone'], ...others.map(({ id, name }) => [id, name] as const)]}
        value={look.comparedId.value ?? ''}
        onChange={(id) => {
          look.comparedId.value = id || null;
        }}
      />
    </fieldset>
  );
}
