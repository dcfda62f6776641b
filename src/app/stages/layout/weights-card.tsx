import type { Weights } from '../../../job';
import { useStore } from '../../parts/job-context';

/** What plans are ranked by, and what it is called. */
const WISHES: readonly (readonly [keyof Weights, string])[] = [
  ['blend', 'A seam that disappears'],
  ['spare', 'Thickness to spare'],
  ['yield', 'Little waste'],
  ['cost', 'Cheap slabs'],
  ['defects', 'Few defects in sight'],
  ['offcuts', 'Offcuts worth keeping'],
];

/** The steps of a wish, from nothing to four times what we would. */
const STEPS = [0, 0.5, 1, 2, 4] as const;
const SAYS = ['does not matter', 'matters a little', 'matters', 'matters much', 'matters most'] as const;

/** How much each wish counts against the others: it takes effect when the tops are laid out again. */
export function WeightsCard() {
  const store = useStore();
  const { weights } = store.job.value.shop;
  return (
    <details class="card">
      <summary>What matters most</summary>
      <div class="stack">
        {WISHES.map(([wish, name]) => {
          const step = nearest(weights[wish]);
          return (
            <label key={wish} class="field wish">
              <span class="label">
                {name}: <strong>{SAYS[step]}</strong>
              </span>
              <input
                type="range"
                min={0}
                max={STEPS.length - 1}
                step={1}
                value={step}
                aria-valuetext={SAYS[step]}
                onChange={(event) => {
                  const value = STEPS[Number(event.currentTarget.value)] ?? 1;
                  store.edit(`Weigh: ${name.toLowerCase()}`, (draft) => {
                    draft.shop.weights[wish] = value;
                  });
                }}
              />
            </label>
          );
        })}
        <p class="small soft">That a top is had at all counts before all of this. Lay out again to see what changes.</p>
      </div>
    </details>
  );
}

/** The step whose weight is nearest to one that a job file may have otherwise. */
function nearest(weight: number): number {
  const away = (i: number) => Math.abs((STEPS[i] as number) - weight);
  return STEPS.reduce<number>((best, _, i) => (away(i) < away(best) ? i : best), 0);
}
