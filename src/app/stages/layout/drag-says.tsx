import { seamDoes, seamWord } from '../../../grain';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import type { PlanView } from '../../plan-view';
import { movedAlong } from './joint-drag';

/** Beside the drawing, while a joint is in the hand: what it breaks, else how it looks and what thickness it leaves. */
export function DragSays({ view }: { view: PlanView }) {
  const units = useUnits();
  const moved = view.dragged.value;
  if (!moved) return null;
  const [fault] = moved.faults;
  const along = movedAlong(moved, view.store.job.value);
  if (fault)
    return (
      <p class="drag-says miss">
        {fault.message} {along}
      </p>
    );
  const { joints, thickness } = moved.placement;
  const blend = joints[0]?.blend ?? null;
  const finish = thickness === null ? '' : `, finishes at about ${formatLength(thickness, units, { decimals: 0 })}`;
  return (
    <p class="drag-says">
      The seam {blend === null ? 'is not known' : seamSays(blend)}
      {finish}
      {along && `. ${along}`}
    </p>
  );
}

const seamSays = (blend: number): string => seamDoes(seamWord(blend));
