import { bounds } from '../../../geometry';
import type { Door, Job, PanelSet } from '../../../job';
import { frontsOf } from '../../../leaves';
import { frontName } from '../../../plan';
import type { JobStore } from '../../store';

/** Fronts that cannot be had, with the reason and the mend; what holds for several is said once. An end match is had by one tap. */
export function Misses({ store, set }: { store: JobStore; set: PanelSet }) {
  const job = store.job.value;
  if (set.misses.length === 0) return null;
  const wanted = frontsOf(Object.values(job.doors));
  const said = new Map<string, { fronts: string[]; mend: string }>();
  const tall = new Set<string>();
  const longest = longestLeaf(job);
  for (const { front, reason, mend } of set.misses) {
    const one = wanted.find(({ id }) => id === front);
    const own = said.get(reason) ?? { fronts: [], mend };
    own.fronts.push(one ? frontName(job, { door: one.door.id, copy: one.copy }) : front);
    said.set(reason, own);
    if (one && isTaller(one.door, longest)) tall.add(one.door.id);
  }
  return (
    <div class="note miss stack">
      {[...said].map(([reason, { fronts, mend }]) => (
        <p key={reason}>
          <strong>{fronts.join(', ')}:</strong> {reason} {mend}
        </p>
      ))}
      {tall.size > 0 && (
        <div class="row">
          <button type="button" class="button" onClick={() => joinEndToEnd(store, tall)}>
            Join their leaves end to end
          </button>
        </div>
      )}
    </div>
  );
}

/** Length of the longest leaf that was read, mm. */
function longestLeaf({ boards }: Job): number {
  const lengths = Object.values(boards).flatMap(({ leaves }) =>
    Object.values(leaves).flatMap(({ faces }) => {
      const outer = (faces.top.outline ?? faces.bottom.outline)?.outer;
      if (!outer) return [];
      const { minX, maxX } = bounds(outer);
      return [maxX - minX];
    }),
  );
  return Math.max(0, ...lengths);
}

/** Whether a slab front is taller than a leaf is long, and of a match that knows rows. */
const isTaller = ({ height, trim, ends, frame }: Door, longest: number): boolean =>
  longest > 0 && ends === null && frame === null && height + 2 * trim > longest;

function joinEndToEnd(store: JobStore, doors: ReadonlySet<string>): void {
  store.edit('Join leaves end to end', (draft) => {
    for (const id of doors) {
      const door = draft.doors[id];
      if (door) door.ends = { match: 'book', rows: 2 };
    }
  });
}
