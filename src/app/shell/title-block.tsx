import { announce } from '../announce';
import { readyOffline } from '../offline';
import { useStore } from '../parts/job-context';
import { LENGTHS } from './words';

/** The corner of the sheet that says what it is: job, stage, units, and whether it is safely stored. */
export function TitleBlock({ sheet }: { sheet: string }) {
  const store = useStore();
  const job = store.job.value;
  const state = store.saveState.value;
  return (
    <div class="title-block">
      <div>
        <span class="small soft">job</span>
        <strong>{job.name}</strong>
      </div>
      <div>
        <span class="small soft">sheet</span>
        <strong>{sheet}</strong>
      </div>
      <fieldset class="units">
        <legend class="hidden-text">Lengths in</legend>
        {LENGTHS.map(([units, text]) => (
          <button
            key={units}
            type="button"
            class="button quiet"
            aria-pressed={job.units === units}
            onClick={() => {
              store.edit(`Lengths in ${text}`, (draft) => {
                draft.units = units;
              });
              announce(`Lengths are now in ${text}.`);
            }}
          >
            {units}
            <span class="hidden-text"> ({text})</span>
          </button>
        ))}
      </fieldset>
      <div>
        <span class="small soft">kept</span>
        <span role="status">
          {state === 'saved' ? 'Saved here' : state === 'saving' ? 'Saving …' : 'Not saved'}
          {readyOffline.value && <span class="small soft"> · ready offline</span>}
        </span>
      </div>
    </div>
  );
}
