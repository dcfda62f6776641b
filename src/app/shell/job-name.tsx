import { useState } from 'preact/hooks';
import type { JobStore } from '../store';

/** Longest name, characters. */
const LONGEST = 200;

/** The job's name, changed where it stands. An empty one is not taken. */
export function JobName({ store }: { store: JobStore }) {
  const { name } = store.job.value;
  const [typed, setTyped] = useState<string | null>(null);

  function leave() {
    const next = typed?.trim().slice(0, LONGEST);
    setTyped(null);
    if (next && next !== name)
      store.edit('Rename the job', (draft) => {
        draft.name = next;
      });
  }

  return (
    <h1 class="job-name">
      <input
        type="text"
        aria-label="Name of the job"
        maxLength={LONGEST}
        value={typed ?? name}
        onInput={(event) => setTyped(event.currentTarget.value)}
        onBlur={leave}
        onKeyDown={(event) => {
          if (event.key === 'Escape') setTyped(null);
          if (event.key === 'Enter' || event.key === 'Escape') event.currentTarget.blur();
        }}
      />
    </h1>
  );
}
