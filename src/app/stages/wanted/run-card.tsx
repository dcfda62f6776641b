import { atOdds, RUN_SOURCES, type Run, runsOf } from '../../../job';
import { newId } from '../../jobs';
import { ChoiceField, TextField } from '../../parts/fields';
import type { JobStore } from '../../store';
import {
  addToRun,
  goOn,
  type MeetingChoice,
  meetingOf,
  moveInRun,
  putTogether,
  setMeeting,
  takeFromRun,
} from './run-edits';

const MEETINGS: readonly (readonly [MeetingChoice, string])[] = [
  ['apart', 'nothing: they stand apart'],
  ['butt', 'a butt joint'],
  ['mitre in', 'a mitre, round an inner corner'],
  ['mitre out', 'a mitre, round an outer corner'],
  ['grain carries on', 'one cut, the grain carries on'],
  ['folds down', 'a fold: it goes down like a waterfall'],
];

const SOURCES: Record<(typeof RUN_SOURCES)[number], string> = {
  anywhere: 'any slab',
  'one flitch': 'slabs of one log',
  'one slab': 'one slab',
};

/** Tops that belong together, and the ways to put more together. */
export function RunCards({ store }: { store: JobStore }) {
  const job = store.job.value;
  const tops = Object.values(job.tops);
  const last = tops.at(-1);
  const known = new Set(runsOf(job).flatMap((run) => run.tops));
  // What hangs down at an end goes on nowhere.
  const hangs = runsOf(job).some(({ tops: ids, meets }) => ids.at(-1) === last?.id && meets.at(-1) === 'folds down');
  const extend = (as: 'folds down' | 'mitre in') => {
    const ids = { top: newId(), run: newId() };
    if (last) store.edit(`Go on from ${last.name}`, (draft) => goOn(draft, last.id, as, ids));
  };
  const together = () => {
    const id = newId();
    store.edit('Put tops together', (draft) => putTogether(draft, id));
  };
  return (
    <>
      {runsOf(job).map((run) => (
        <RunCard key={run.id} store={store} run={run} />
      ))}
      {tops.length > 1 && tops.some(({ id }) => !known.has(id)) && (
        <button type="button" class="button" onClick={together}>
          Put tops together
        </button>
      )}
      {last && !hangs && (
        <div class="nudges">
          <button type="button" class="button" onClick={() => extend('folds down')}>
            Waterfall end on {last.name}
          </button>
          <button type="button" class="button" onClick={() => extend('mitre in')}>
            {last.name} goes round a corner
          </button>
        </div>
      )}
    </>
  );
}

function RunCard({ store, run }: { store: JobStore; run: Run }) {
  const job = store.job.value;
  const named = (id: string): string => job.tops[id]?.name ?? id;
  const free = Object.values(job.tops).filter(({ id }) => !run.tops.includes(id));
  const odds = [...new Set(run.tops.flatMap((id) => atOdds(job, id) ?? []))];
  const set = (change: Partial<Pick<Run, 'name' | 'from'>>) =>
    store.edit(`Change ${run.name}`, (draft) => {
      const own = draft.runs[run.id];
      if (own) Object.assign(own, change);
    });
  return (
    <section class="card stack" aria-label={run.name}>
      <div class="fields">
        <TextField label="Belong together as" value={run.name} onChange={(name) => set({ name })} />
        <ChoiceField
          label="All cut from"
          value={run.from}
          options={RUN_SOURCES.map((source) => [source, SOURCES[source]] as const)}
          onChange={(from) => set({ from })}
        />
      </div>
      <p class="small soft">In their order from the right-hand end, as you stand before them.</p>
      {run.tops.map((id, i) => (
        <div key={id} class="stack">
          {i > 0 && (
            <ChoiceField
              label={`Between ${named(run.tops[i - 1] as string)} and ${named(id)}`}
              value={meetingOf(job, run, i - 1)}
              options={MEETINGS}
              onChange={(choice) =>
                store.edit(`How ${named(id)} meets`, (draft) => setMeeting(draft, run.id, i - 1, choice))
              }
            />
          )}
          <div class="run-top">
            <strong>{named(id)}</strong>
            <button
              type="button"
              class="button"
              disabled={i === 0}
              aria-label={`${named(id)} further right`}
              onClick={() => store.edit(`Move ${named(id)}`, (draft) => moveInRun(draft, run.id, id, -1))}
            >
              ↑
            </button>
            <button
              type="button"
              class="button"
              disabled={i + 1 === run.tops.length}
              aria-label={`${named(id)} further left`}
              onClick={() => store.edit(`Move ${named(id)}`, (draft) => moveInRun(draft, run.id, id, 1))}
            >
              ↓
            </button>
            <button
              type="button"
              class="button"
              aria-label={`Take ${named(id)} out of ${run.name}`}
              onClick={() => store.edit(`Take ${named(id)} out of it`, (draft) => takeFromRun(draft, run.id, id))}
            >
              Take out
            </button>
          </div>
        </div>
      ))}
      {odds.map((words) => (
        <p key={words} class="note">
          {words}
        </p>
      ))}
      {free.length > 0 && (
        <ChoiceField
          label="Add at the left-hand end"
          value=""
          options={[['', 'choose a top'], ...free.map(({ id, name }) => [id, name] as const)]}
          onChange={(id) => id && store.edit(`Add ${named(id)} to it`, (draft) => addToRun(draft, run.id, id))}
        />
      )}
      <button
        type="button"
        class="button cut"
        onClick={() =>
          store.edit(`Part ${run.name}`, (draft) => {
            for (const id of run.tops) takeFromRun(draft, run.id, id);
            delete draft.runs[run.id];
          })
        }
      >
        They need not belong together
      </button>
    </section>
  );
}
