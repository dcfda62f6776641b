import type { Job, Plan } from '../../../job';
import { formatShare } from '../../../units';
import { isEmpty } from './misses';
import { PlanPicture } from './plan-picture';
import { costOf, differenceOf, differenceWords, seamsOf, spareOf } from './plan-words';
import type { FaceLooks } from './wood';

/** Width of a plan's small picture, px. */
const SMALL = 104;

interface PlanCardProps {
  job: Job;
  plan: Plan;
  /** The plan that it is measured against; null for that one itself. */
  first: Plan | null;
  looks: FaceLooks;
  chosen: boolean;
  onChoose(): void;
}

/** One of the plans, with what tells it from the others and what it gives up against the first. */
export function PlanCard({ job, plan, first, looks, chosen, onChoose }: PlanCardProps) {
  const kept = job.keptPlan === plan.id;
  return (
    <button
      type="button"
      class={`plan-card ${plan.misses.length > 0 ? 'missing' : ''}`}
      aria-pressed={chosen}
      onClick={onChoose}
    >
      <span class="plan-head">
        <span class="plan-name">
          {plan.name}
          {kept && <span class="kept">kept</span>}
          {plan.misses.length > 0 && <span class="misses">misses</span>}
        </span>
        {!isEmpty(plan) && (
          <span aria-hidden="true">
            <PlanPicture plan={plan} looks={looks} width={SMALL} />
          </span>
        )}
      </span>
      {isEmpty(plan) ? (
        <span class="small">No top is had.</span>
      ) : (
        <dl class="plan-facts">
          <Fact name="seam" value={seamsOf(plan)} />
          <Fact name="to spare" value={spareOf(plan, job)} />
          <Fact name="waste" value={formatShare(plan.waste)} />
          <Fact name="slabs" value={costOf(plan, job)} />
        </dl>
      )}
      {first && <span class="small">{differenceWords(differenceOf(plan, first, job))}</span>}
    </button>
  );
}

const Fact = ({ name, value }: { name: string; value: string }) => (
  <div>
    <dt>{name}</dt>
    <dd>{value}</dd>
  </div>
);
