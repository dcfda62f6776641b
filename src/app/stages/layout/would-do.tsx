import { useEffect, useState } from 'preact/hooks';
import { askedAs, type Job, type Plan, type Top } from '../../../job';
import type { WouldDo as Size } from '../../../layout';
import { formatLength } from '../../../units';
import { useStore } from '../../parts/job-context';
import type { PlanView } from '../../plan-view';
import { solverWork } from '../../work';

/** The plan rests this long, ms, before it is looked for what would do. */
const REST = 300;

/** Tops that no plan of the job gives as wanted, as the job asks for them. */
function missedTops(job: Job): Top[] {
  const plans = Object.values(job.plans);
  const missed = (id: string): boolean => plans.every(({ misses }) => misses.some(({ top }) => top === id));
  const ids = plans[0]?.misses.map(({ top }) => top).filter(missed) ?? [];
  return [...new Set(ids.flatMap((id) => askedAs(job, id) ?? []))];
}

/** For each top that no plan gives: the sizes that were found to fit these slabs, each laid out at one tap, which Undo takes back. */
export function WouldDo({ view, plan }: { view: PlanView; plan: Plan }) {
  const job = useStore().job.value;
  if (view.running.value) return null;
  return (
    <>
      {missedTops(job).map((top) => (
        <OfTop key={top.id} view={view} plan={plan} top={top} />
      ))}
    </>
  );
}

function OfTop({ view, plan, top }: { view: PlanView; plan: Plan; top: Top }) {
  const job = useStore().job.value;
  const [found, setFound] = useState<readonly Size[] | 'looking'>('looking');
  useEffect(() => {
    const stopper = new AbortController();
    setFound('looking');
    const timer = setTimeout(() => {
      solverWork
        .call(
          stopper.signal,
          () => {},
          (api, id, report) => api.wouldDo(id, job, plan, top.id, report),
        )
        .then(setFound)
        .catch(() => {
          if (!stopper.signal.aborted) setFound([]);
        });
    }, REST);
    return () => {
      clearTimeout(timer);
      stopper.abort();
    };
  }, [job.flitches, job.tops, job.shop, job.runs, plan]);
  if (found === 'looking') return <p class="small soft">Looking for what your slabs would give …</p>;
  if (found.length === 0) return null;
  return (
    <section class="stack" aria-label={`What would do for ${top.name}`}>
      <p aria-live="polite">
        <strong>{top.name}:</strong> this was found to fit your slabs, all else as you want it.
      </p>
      <div class="row wrap">
        {found.map((one) => {
          const words = sizeWords(one, job);
          return (
            <button
              key={one.gives}
              type="button"
              class="button"
              onClick={() =>
                void view.layOutAs({
                  name: `${top.name} ${words}`,
                  change: (draft) => {
                    const wanted = draft.tops[top.id];
                    if (wanted) Object.assign(wanted, one.size);
                  },
                  changesJob: true,
                })
              }
            >
              Make it {words}
            </button>
          );
        })}
      </div>
    </section>
  );
}

/** A size by what it gives up. */
function sizeWords({ gives, size }: Size, { units }: Job): string {
  const say = (mm: number, last = true): string => formatLength(mm, units, { unit: last });
  const [least, most] = size.depth;
  const long = `${say(size.length)} long`;
  const deep = least === most ? `${say(least)} deep` : `${say(least, false)} to ${say(most)} deep`;
  const thick = `${say(size.thickness)} thick`;
  if (gives === 'length') return long;
  if (gives === 'depth' || gives === 'band') return deep;
  if (gives === 'seam') return size.seams === 1 ? 'with one seam' : `with ${size.seams} seams`;
  return gives === 'thickness' ? thick : `${long}, ${deep}, ${thick}`;
}
