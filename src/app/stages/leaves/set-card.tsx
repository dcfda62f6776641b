import { seamDoes, seamWord } from '../../../grain';
import type { Job, PanelSet } from '../../../job';
import { setWarnings } from '../../../leaves';
import { benchRules } from '../../../plan';
import { formatShare } from '../../../units';
import { TroubleNote } from '../../parts/problem';
import { Progress } from '../../parts/progress';
import { TriedRow } from '../../parts/tried-row';
import { inWords } from './leaf-words';
import { Misses } from './misses';
import type { SetView } from './set-view';

/** Faults that are read out. */
const MOST_SAID = 5;

/** Laying the doors out: progress, what came of it, what cannot be had, what the check says. */
export function SetCard({ view, job, leaves }: { view: SetView; job: Job; leaves: number }) {
  const running = view.running.value;
  const set = view.kept.value;
  const found = view.found.value;
  const whatIf = view.whatIf.value;
  return (
    <section class="card stack" aria-label="The set">
      {running ? (
        <>
          <Progress label={running.label} fraction={running.fraction} note={running.note} onStop={running.stop} />
          {found && <p class="small soft">In view is the best so far: {counted(found)}. Stop keeps it.</p>}
        </>
      ) : (
        <button type="button" class="button main" disabled={leaves === 0} onClick={() => void view.layOut()}>
          {set ? 'Lay the doors out again' : 'Lay the doors out'}
        </button>
      )}
      <TroubleNote trouble={view.trouble.value} />
      {whatIf && !running ? (
        <WhatIfNote view={view} now={set} />
      ) : (
        set && !running && <SetFacts view={view} job={job} set={set} />
      )}
    </section>
  );
}

const counted = (set: PanelSet): string => {
  const laid = Object.keys(set.fronts).length;
  return laid === 1 ? '1 front laid' : `${laid} fronts laid`;
};

function SetFacts({ view, job, set }: { view: SetView; job: Job; set: PanelSet }) {
  // What is wrong with many pieces is said of the first few.
  const checked =
    view.faults.value?.of === set ? [...new Set(view.faults.value.faults.map((words) => inWords(job, words)))] : null;
  return (
    <>
      <p>
        {counted(set)}
        {set.locked.length > 0 && `, ${set.locked.length} locked`}.{' '}
        {set.gap <= 0
          ? 'No other choice of those looked at is better.'
          : `At most ${formatShare(set.gap, 1)} of what its joints cost could still be gained.`}
      </p>
      <Misses store={view.store} set={set} />
      {(!checked || checked.length === 0) && (
        <p class="small">
          {checked
            ? 'Checked: every piece lies on its own sound wood, in sequence, at its size.'
            : 'Checking that every piece lies on its own sound wood, in sequence, at its size …'}
        </p>
      )}
      {checked && checked.length > 0 && (
        <div class="note miss">
          {checked.slice(0, MOST_SAID).map((words) => (
            <p key={words}>{words}</p>
          ))}
          {checked.length > MOST_SAID && <p>And {checked.length - MOST_SAID} more.</p>}
        </div>
      )}
      {setWarnings(set, job.doors, benchRules(job).loose, job.units).map((words) => (
        <p key={words} class="note small">
          {words}
        </p>
      ))}
      {set.spares.length === 0 && Object.keys(set.fronts).length > 0 && (
        <p class="note">No leaf is left over: one that is spoilt on the bench is a front that will not match.</p>
      )}
      {set.spares.length > 0 && (
        <p class="small soft">
          {set.spares.length === 1 ? 'One length of leaf is' : `${set.spares.length} lengths of leaf are`} left over.
        </p>
      )}
    </>
  );
}

function WhatIfNote({ view, now }: { view: SetView; now: PanelSet | null }) {
  const whatIf = view.whatIf.value;
  if (!whatIf) return null;
  const lost = Object.keys(now?.fronts ?? {}).filter((id) => !whatIf.set.fronts[id]).length;
  const before = leastOf(now);
  const after = leastOf(whatIf.set);
  return (
    <div class="note stack" role="status">
      <p>
        <strong>
          {lost === 0
            ? 'Without it every front can still be had.'
            : lost === 1
              ? 'Without it one front fails.'
              : `Without it ${lost} fronts fail.`}
        </strong>{' '}
        {before !== null &&
          after !== null &&
          `Its weakest joint then ${seamDoes(seamWord(after))} (${after.toFixed(2)}; now ${before.toFixed(2)}).`}{' '}
        It is in view.
      </p>
      <Misses store={view.store} set={whatIf.set} />
      <TriedRow
        onTake={() => view.takeOver(whatIf)}
        onLeave={() => {
          view.whatIf.value = null;
        }}
      />
    </div>
  );
}

function leastOf(set: PanelSet | null): number | null {
  const known = Object.values(set?.fronts ?? {}).flatMap(({ blend }) => (blend === null ? [] : [blend]));
  return known.length > 0 ? Math.min(...known) : null;
}
