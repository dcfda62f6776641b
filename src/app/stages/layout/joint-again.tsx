import { useState } from 'preact/hooks';
import type { Job, Placement, Plan } from '../../../job';
import { useStore } from '../../parts/job-context';
import type { PlanView } from '../../plan-view';
import { jointDrag } from './joint-drag';

/** Whether every face that a placement is cut from was photographed flat. */
const onFlatFaces = (job: Job, { strips }: Placement): boolean =>
  strips.every(({ flitch, slab, face }) => {
    const cut = job.flitches[flitch]?.slabs[slab]?.faces[face];
    return cut?.flat === true && cut.picture !== null;
  });

/** Says once of a plan's joints on rough faces that they are provisional. */
export function Provisional({ plan }: { plan: Plan }) {
  const job = useStore().job.value;
  const isRough = (placement: Placement) => placement.joints.length > 0 && !onFlatFaces(job, placement);
  if (!Object.values(plan.placements).some(isRough)) return null;
  return (
    <p class="small soft">
      Planing moves the figure, so a joint on rough faces is provisional. Once the faces are flat, photograph them
      again, tick on the Stock stage that the pictures show them flattened, and find the joint again here.
    </p>
  );
}

/** On flat faces a joint is found again within the wood that was left for it. */
export function JointAgain({ view, plan, placement }: { view: PlanView; plan: Plan; placement: Placement }) {
  const job = useStore().job.value;
  const [said, setSaid] = useState('');
  if (!onFlatFaces(job, placement)) return null;
  return (
    <>
      <button
        type="button"
        class="button"
        disabled={view.running.value !== null}
        onClick={async () => setSaid(await jointDrag(view).again(plan, placement))}
      >
        Find the joint again on the flat faces
      </button>
      <p class="small" role="status">
        {said}
      </p>
    </>
  );
}

/** The tape has moved the strips since their seam was judged: a joint of two is looked at again where it is now. */
export function JudgeAgain({ view, plan, placement }: { view: PlanView; plan: Plan; placement: Placement }) {
  return (
    <div class="note stack">
      <p>The tape has moved this top on its slab since the seam was judged: how it looks is of before.</p>
      {placement.strips.length === 2 && (
        <button
          type="button"
          class="button"
          onClick={() => void jointDrag(view).nudge(plan.id, placement.top, { side: 0, by: 0, turn: 0, slide: 0 })}
        >
          Judge it again where it is
        </button>
      )}
    </div>
  );
}
