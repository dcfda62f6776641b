import { askedAs } from '../../../job';
import type { TopReport } from '../../../plan';
import { TickField } from '../../parts/fields';
import type { JobStore } from '../../store';

/** Whether the seams of a top get keys as a decoration; of tops that are asked for alike all do. */
export function SeamKeys({ store, top }: { store: JobStore; top: TopReport }) {
  const asked = askedAs(store.job.value, top.id);
  if (!asked || top.seams.length === 0) return null;
  return (
    <TickField
      label={`Keys over the ${top.seams.length === 1 ? 'seam' : 'seams'} too, as a decoration`}
      value={asked.seamKeys ?? false}
      onChange={(on) =>
        store.edit('Keys over a seam', ({ tops }) => {
          const own = tops[asked.id];
          if (own) own.seamKeys = on;
        })
      }
    />
  );
}
