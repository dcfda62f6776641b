import type { Job } from '../../../job';
import { onlyTaped } from '../../../plan';

/** Says of slabs that only a tape tells why no plan and no map has them. */
export function OnlyTaped({ job }: { job: Job }) {
  const words = onlyTaped(job);
  return words && <p class="note">{words}</p>;
}
