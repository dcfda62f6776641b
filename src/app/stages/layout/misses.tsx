import type { Plan } from '../../../job';
import type { PlanView } from '../../plan-view';
import { go, jobAddress } from '../../route';
import { WouldDo } from './would-do';

/** What a plan misses, each reason said once: the tops of a run that cannot be had all miss for the same. */
const missWords = (plan: Plan): string[] => [...new Set(plan.misses.map(({ message }) => message))];

/** Whether a plan has no top at all, so that there is nothing to draw, to check or to pay. */
export const isEmpty = (plan: Plan): boolean => Object.keys(plan.placements).length === 0;

/** What a plan misses, beside its drawing. */
export function Misses({ plan }: { plan: Plan }) {
  return (
    <>
      {missWords(plan).map((words) => (
        <p key={words} class="note miss">
          <strong>Misses:</strong> {words}
        </p>
      ))}
    </>
  );
}

/** Stands in the place of the drawings where no top comes out of the slabs: why, and where that can be changed. */
export function NothingHad({ view, plan, tops }: { view: PlanView; plan: Plan; tops: number }) {
  const jobId = view.store.id;
  const words = missWords(plan);
  return (
    <div class="empty-sheet">
      <p>
        <strong>
          {tops === 1 ? 'The top cannot be had from these slabs.' : 'None of the tops can be had from these slabs.'}
        </strong>
      </p>
      {words.map((each) => (
        <p key={each}>{each}</p>
      ))}
      <WouldDo view={view} plan={plan} />
      <div class="row wrap">
        <button type="button" class="button" onClick={() => go(jobAddress(jobId, 'tops'))}>
          Change what is wanted
        </button>
        <button type="button" class="button" onClick={() => go(jobAddress(jobId, 'stock'))}>
          Add a slab
        </button>
      </div>
    </div>
  );
}
