import { announce } from '../announce';
import type { JobStore } from '../store';

/** Every step of the job by its name, the last first: one tap goes back, or forward, to just after it. */
export function StepsButton({ store }: { store: JobStore }) {
  const { done, undone } = store.history.value;
  const steps = [...done, ...undone.toReversed()].map(({ name }, i) => ({ name, after: i + 1 })).reverse();
  const here = done.length;

  function goTo(after: number, name: string) {
    store.goTo(after);
    document.getElementById('steps')?.hidePopover();
    announce(after === 0 ? 'All of these steps are undone.' : `The job is as it was after: ${name}`);
  }

  return (
    <>
      <button type="button" class="button quiet" popovertarget="steps" disabled={steps.length === 0}>
        <span aria-hidden="true">☰</span>
        <span class="hidden-text">Steps</span>
      </button>
      <section id="steps" class="steps from-head card" popover="auto" aria-label="Steps">
        <h2>Steps</h2>
        <ol reversed>
          {steps.map(({ name, after }) => (
            <li key={after}>
              <button
                type="button"
                class={after > here ? 'button quiet soft' : 'button quiet'}
                {...(after === here && { 'aria-current': 'step' as const })}
                onClick={() => goTo(after, name)}
              >
                {name}
                {after > here && <span class="small"> (undone)</span>}
              </button>
            </li>
          ))}
        </ol>
        <button type="button" class="button" disabled={here === 0} onClick={() => goTo(0, '')}>
          Before all of these
        </button>
      </section>
    </>
  );
}
