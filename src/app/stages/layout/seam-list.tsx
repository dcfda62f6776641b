import type { Placement } from '../../../job';
import { useUnits } from '../../parts/job-context';
import type { PlanView } from '../../plan-view';
import { jointDrag } from './joint-drag';
import { layoutLook } from './look';
import { becauseWords, runPlace, seamRuns } from './seam-runs';

/** Where along its seam a top shows it and why, from left to right; a tap looks at that stretch closely. */
export function SeamList({ view, placement, length }: { view: PlanView; placement: Placement; length: number }) {
  const units = useUnits();
  const drag = jointDrag(view);
  const look = layoutLook(view);
  const moved = view.dragged.value;
  const known = drag.alongs.value;
  const held = moved?.placement.top === placement.top;
  if (!held && !known.has(placement))
    return (
      <p role="status" class="small soft">
        Looking along the joint …
      </p>
    );
  const along = held ? moved.along : known.get(placement);
  if (!along) return <p class="small soft">Without photos of both slabs nobody can tell how the seam will look.</p>;
  const runs = seamRuns(along, length);
  const { top } = placement;
  const close = look.close.value;
  return (
    <div>
      <h2 class="small soft">Along the seam, from the left</h2>
      <ol class="seam-runs">
        {runs.map((run, i) => {
          const pressed = close?.top === top && close.from === run.from && close.to === run.to;
          return (
            <li key={run.from}>
              <button
                type="button"
                class="seam-run"
                aria-pressed={pressed}
                onClick={() => {
                  look.pane.value = 'top';
                  look.stage.value = 'finished';
                  look.close.value = pressed ? null : { top, from: run.from, to: run.to };
                }}
              >
                <span class="number">{runs.length > 1 ? i + 1 : ''}</span>
                <span class="number">{runPlace(run, units)}</span>
                <span>
                  <strong>{run.word ?? 'cannot be told'}</strong>
                  {run.why && <span class="small">: {becauseWords(run.why)}</span>}
                </span>
              </button>
            </li>
          );
        })}
      </ol>
    </div>
  );
}
