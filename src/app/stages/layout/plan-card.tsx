import { seamWord } from '../../../grain';
import type { Job, Plan } from '../../../job';
import { formatLength, formatMoney, formatShare } from '../../../units';

/** How the seams of a plan look, said of the worst. */
export function seamsOf(plan: Plan): string {
  const joints = Object.values(plan.placements).flatMap((placement) => placement.joints);
  if (joints.length === 0) return 'none';
  const blends = joints.map(({ blend }) => blend);
  if (blends.some((blend) => blend === null)) return 'not known';
  return seamWord(Math.min(...(blends as number[])));
}

/** The least finished thickness of a plan's tops, or what is missing to say it. */
export function thicknessOf(plan: Plan, job: Job): string {
  const all = Object.values(plan.placements).map(({ thickness }) => thickness);
  if (all.length === 0) return '–';
  if (all.some((mm) => mm === null)) return 'no readings';
  return formatLength(Math.min(...(all as number[])), job.units, { decimals: 1 });
}

interface PlanCardProps {
  job: Job;
  plan: Plan;
  chosen: boolean;
  onChoose(): void;
}

/** One of the plans, with what tells it from the others. */
export function PlanCard({ job, plan, chosen, onChoose }: PlanCardProps) {
  const kept = job.keptPlan === plan.id;
  return (
    <button
      type="button"
      class={`plan-card ${plan.misses.length > 0 ? 'missing' : ''}`}
      aria-pressed={chosen}
      onClick={onChoose}
    >
      <span class="plan-name">
        {plan.name}
        {kept && <span class="kept">kept</span>}
        {plan.misses.length > 0 && <span class="misses">misses</span>}
      </span>
      <dl class="plan-facts">
        <Fact name="seam" value={seamsOf(plan)} />
        <Fact name="can finish at" value={thicknessOf(plan, job)} />
        <Fact name="waste" value={formatShare(plan.waste)} />
        <Fact name="slabs" value={plan.cost === null ? 'no price' : formatMoney(plan.cost, job.currency)} />
      </dl>
    </button>
  );
}

const Fact = ({ name, value }: { name: string; value: string }) => (
  <div>
    <dt>{name}</dt>
    <dd>{value}</dd>
  </div>
);
