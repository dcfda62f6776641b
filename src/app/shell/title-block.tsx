import { announce } from '../announce';
import { disk } from '../disk';
import { readyOffline } from '../offline';
import { Choices } from '../parts/choices';
import { useStore } from '../parts/job-context';

const LENGTHS = [
  ['mm', 'millimetres'],
  ['in', 'inches'],
] as const;

/** The corner of the sheet: in which units it reads, and whether it is safely kept. */
export function TitleBlock() {
  const store = useStore();
  const state = store.saveState.value;
  return (
    <div class="title-block">
      <Choices
        label="Lengths in"
        value={store.job.value.units}
        options={LENGTHS.map(([units, text]) => [
          units,
          <span key={units}>
            {units}
            <span class="hidden-text"> ({text})</span>
          </span>,
        ])}
        onChange={(units) => {
          const text = LENGTHS.find(([id]) => id === units)?.[1] ?? units;
          store.edit(`Lengths in ${text}`, (draft) => {
            draft.units = units;
          });
          announce(`Lengths are now in ${text}.`);
        }}
      />
      <div>
        <span role="status">{state === 'saved' ? 'Saved here' : state === 'saving' ? 'Saving …' : 'Not saved'}</span>
        <span class="small soft">{readyOffline.value ? 'ready offline' : 'not yet ready offline'}</span>
        {/* A browser that may clear what it keeps is spoken of only where there is something to lose. */}
        {disk.value?.lasting === false && store.hasNoCopy() && <span class="small">no copy as a file yet</span>}
      </div>
    </div>
  );
}
