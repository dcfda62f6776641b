import type { PlanReport } from '../../../plan';
import type { PlanView } from '../../plan-view';

/** What the checker says of the plan in view, following a joint in the hand. */
export function VerdictNote({ view, report }: { view: PlanView; report: PlanReport | null }) {
  const moved = view.dragged.value;
  const faults = moved?.faults ?? report?.verdict.faults;
  if (!faults)
    return (
      <div class="note">
        <p>Checking whether every piece lies in sound wood, and whether kerfs and margins are kept …</p>
      </div>
    );
  if (faults.length === 0)
    return (
      <div class="note">
        <p>Checked: every piece lies in sound wood, kerfs and margins are kept, and the areas add up.</p>
      </div>
    );
  return (
    <div class="note miss">
      <p>
        <strong>This plan cannot be sawn as drawn:</strong>
      </p>
      <ul>
        {[...new Set(faults.map(({ message }) => message))].map((message) => (
          <li key={message}>{message}</li>
        ))}
      </ul>
    </div>
  );
}
