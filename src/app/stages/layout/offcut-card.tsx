import { useSignal } from '@preact/signals';
import type { Job } from '../../../job';
import { type PlanReport, servesFor, servicesWords, sparePieces } from '../../../plan';
import { formatLength } from '../../../units';
import { otherJobs } from '../../jobs';
import { type Trouble, TroubleNote, troubleOf } from '../../parts/problem';

/** What a plan leaves over: clear pieces with their sizes, and which of them other jobs of this device could use. */
export function OffcutCard({ job, report }: { job: Job; report: PlanReport }) {
  const others = useSignal<readonly Job[] | null>(null);
  const trouble = useSignal<Trouble | null>(null);
  const pieces = sparePieces(job, report);
  if (pieces.length === 0) return null;
  const say = (mm: number): string => formatLength(mm, job.units, { decimals: 0 });

  const look = async (): Promise<void> => {
    try {
      others.value = await otherJobs(job.id);
    } catch (error) {
      trouble.value = troubleOf(error);
    }
  };

  return (
    <details
      class="card"
      onToggle={(event) => {
        if (event.currentTarget.open && !others.value) void look();
      }}
    >
      <summary>Offcuts worth keeping ({pieces.length})</summary>
      <div class="stack">
        <ul class="list plain">
          {pieces.map(({ name, size, thickness }) => (
            <li key={name}>
              <strong>{name}:</strong> {say(size[0])} along the grain × {say(size[1])}
              {thickness
                ? `, finishes at ${formatLength(Math.max(0, thickness.finished), job.units)}`
                : ', thickness not read'}
            </li>
          ))}
        </ul>
        <TroubleNote trouble={trouble.value} />
        {others.value?.length === 0 && <p class="small soft">No other job on this device wants anything yet.</p>}
        {others.value?.map((other) => (
          <ForJob key={other.id} job={other} services={servesFor(pieces, other)} />
        ))}
      </div>
    </details>
  );
}

/** What the pieces would do for one other job, piece by piece. */
function ForJob({ job, services }: { job: Job; services: ReturnType<typeof servesFor> }) {
  const names = [...new Set(services.map(({ piece }) => piece.name))];
  return (
    <section>
      <h2 class="small">For “{job.name}”</h2>
      {names.length === 0 ? (
        <p class="small soft">None of them is of use.</p>
      ) : (
        <ul class="list plain">
          {names.map((name) => (
            <li key={name}>
              <strong>{name}:</strong> {servicesWords(services.filter(({ piece }) => piece.name === name))}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
