import { Choices } from '../../parts/choices';
import { TroubleNote } from '../../parts/problem';
import { Progress } from '../../parts/progress';
import type { StageProps } from '../stage';
import { StageLayout } from '../stage-layout';
import { YardSets } from './yard-sets';
import { YardSlabs } from './yard-slabs';
import { yardView } from './yard-view';

const AIMS = [
  ['best', 'The best tops first'],
  ['cheapest', 'The cheapest first'],
] as const;

/** Which slabs of a rack to buy: sets in their order, and the slabs, each with what is known and where it stands. */
export function YardScreen({ store }: StageProps) {
  const view = yardView(store);
  const job = store.job.value;
  const report = view.report.value;
  const running = view.running.value;
  const wanted = Object.keys(job.tops).length > 0;
  const rank = () => void view.rank();

  return (
    <StageLayout
      title="Which slabs to buy"
      {...(running && { primary: null })}
      drawing={
        report ? (
          <YardSets view={view} report={report} />
        ) : (
          <div class="empty-sheet">
            <p>
              {wanted
                ? 'Every slab on offer, and every pair of them, is ranked by what it gives for the tops that are wanted.'
                : 'No top is wanted yet. Say its size under Tops and doors.'}
            </p>
            {wanted && !running && (
              <button type="button" class="button main" onClick={rank}>
                Rank the slabs
              </button>
            )}
          </div>
        )
      }
      facts={
        <>
          <button
            type="button"
            class="button"
            onClick={() => {
              view.open.value = false;
            }}
          >
            <span aria-hidden="true">‹</span> Back to the plans
          </button>
          {running && (
            <Progress label={running.label} fraction={running.fraction} note={running.note} onStop={running.stop} />
          )}
          <TroubleNote trouble={view.trouble.value} />
          {report && (
            <div class="note" aria-live="polite">
              <p>
                <strong>{report.verdict}</strong>
              </p>
              <p class="small soft">{report.progress}</p>
              {view.stale.value && !running && <p>The job has changed since: rank again.</p>}
            </div>
          )}
          {wanted && !running && (
            <>
              <Choices
                label="What counts"
                options={AIMS}
                value={view.aim.value}
                onChange={(aim) => {
                  view.aim.value = aim;
                  if (report) rank();
                }}
              />
              {report && (view.stale.value || !report.settled) && (
                <button type="button" class="button" onClick={rank}>
                  {view.stale.value ? 'Rank again' : 'Look further'}
                </button>
              )}
            </>
          )}
          <YardSlabs view={view} report={report} />
        </>
      }
    />
  );
}
