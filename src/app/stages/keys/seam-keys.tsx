import { askedAs } from '../../../job';
import { seamKeysAdded, type TopReport } from '../../../plan';
import { TickField } from '../../parts/fields';
import type { JobStore } from '../../store';

interface SeamKeysProps {
  store: JobStore;
  /** Id of the plan in view. */
  plan: string;
  top: TopReport;
}

/** Whether the seams of a top get keys as a decoration; of tops that are asked for alike all do. */
export function SeamKeys({ store, plan, top }: SeamKeysProps) {
  const job = store.job.value;
  const asked = askedAs(job, top.id);
  if (!asked || top.seams.length === 0) return null;
  const wish = (seamKeys: boolean) => {
    const wished = { ...job, tops: { ...job.tops, [asked.id]: { ...asked, seamKeys } } };
    const inView = job.plans[plan];
    const added = inView ? seamKeysAdded(wished, inView) : new Map<string, never>();
    store.edit('Keys over a seam', (draft) => {
      const own = draft.tops[asked.id];
      if (own) own.seamKeys = seamKeys;
      for (const [id, keys] of added) {
        const placement = draft.plans[plan]?.placements[id];
        if (placement) placement.keys = keys;
      }
    });
  };
  return (
    <TickField
      label={`Keys over the ${top.seams.length === 1 ? 'seam' : 'seams'} too, as a decoration`}
      value={asked.seamKeys ?? false}
      onChange={wish}
    />
  );
}
