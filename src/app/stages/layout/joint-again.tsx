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

/** A joint on rough faces is provisional; on flat ones it is found again within the wood that was left for it. */
export function JointAgain({ view, plan, placement }: { view: PlanView; plan: Plan; placement: Placement }) {
  const job = useStore().job.value;
  const [said, setSaid] = useState('');
  if (!onFlatFaces(job, placement)) {
    return (
      <p class="small soft">
        Planing moves the figure, so this joint is provisional. Once both faces are flat, photograph them again, tick on
        the Stock stage that the pictures show them flattened, and find the joint again here.
      </p>
    );
  }
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
