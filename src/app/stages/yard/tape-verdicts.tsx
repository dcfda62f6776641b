import { type Job, wantedTops } from '../../../job';
import type { Carries } from '../../../layout';
import { carriesWords, setName } from '../../../plan';

const ORDER = { carries: 0, may: 1, cannot: 2 } as const;
const MARK = { carries: '✓', may: '?', cannot: '✕' } as const;
/** So many pairs are told for a top. */
const PAIRS = 3;

/** What the slab carries of each top, alone, and where it does not, with which others. */
export function TapeVerdicts({ job, told }: { job: Job; told: readonly Carries[] }) {
  return (
    <ul class="tape-verdicts">
      {wantedTops(job).map((top) => {
        const own = told.filter((one) => one.top === top.id);
        const alone = own.filter(({ slabs }) => slabs.length === 1);
        const pairs = own
          .filter(({ slabs, says }) => slabs.length > 1 && says !== 'cannot')
          .sort((a, b) => ORDER[a.says] - ORDER[b.says]);
        const lines = alone[0]?.says === 'carries' ? alone : [...alone, ...pairs.slice(0, PAIRS)];
        return (
          <li key={top.id}>
            <h3>{top.name}</h3>
            {lines.map((one) => (
              <Verdict key={one.slabs.join()} job={job} told={one} />
            ))}
            {lines.length < 2 && alone[0]?.says !== 'carries' && own.length > alone.length && (
              <p class="small soft">No pair with another slab gives it either.</p>
            )}
          </li>
        );
      })}
    </ul>
  );
}

function Verdict({ job, told }: { job: Job; told: Carries }) {
  const { says, verdict, why, settle } = carriesWords(job, told);
  return (
    <p class={`verdict ${says}`}>
      <span class="mark" aria-hidden="true">
        {MARK[says]}
      </span>
      <span>
        <strong>
          {setName(job, told.slabs)}: {verdict}.
        </strong>{' '}
        {why} {settle && <em>{says === 'carries' ? settle : `To settle it: ${settle}`}</em>}
      </span>
    </p>
  );
}
