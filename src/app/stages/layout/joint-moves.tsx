import { useState } from 'preact/hooks';
import type { Placement, Plan } from '../../../job';
import { Choices } from '../../parts/choices';
import { useStore } from '../../parts/job-context';
import { StepSize } from '../../parts/step-size';
import type { PlanView } from '../../plan-view';
import { jointDrag } from './joint-drag';

const STILL = { by: 0, turn: 0, slide: 0 };
/** One tap moves the joint this far, mm; ten times that in large steps. */
const STEP = 1;
/** One tap turns it this far, degrees: 2 mm at the end of a counter. */
const TURN = 0.1;

/** Every move of a joint by single taps. */
export function JointMoves({ view, plan, placement }: { view: PlanView; plan: Plan; placement: Placement }) {
  const job = useStore().job.value;
  const [side, setSide] = useState<0 | 1>(0);
  const [large, setLarge] = useState(false);
  const drag = jointDrag(view);
  const times = large ? 10 : 1;
  const name = (i: 0 | 1) => {
    const strip = placement.strips[i]!;
    const slab = job.flitches[strip.flitch]?.slabs[strip.slab]?.name ?? strip.slab;
    if (placement.strips[0]!.slab !== placement.strips[1]!.slab) return slab;
    return i === 0 ? `${slab}, in front` : `${slab}, behind`;
  };
  const nudge = (move: Partial<typeof STILL>) => void drag.nudge(plan.id, placement.top, { ...STILL, ...move, side });
  const moves = [
    ['To the front', { by: -STEP * times }],
    ['To the back', { by: STEP * times }],
    ['Slide left', { slide: STEP * times }],
    ['Slide right', { slide: -STEP * times }],
    ['Turn left', { turn: -TURN * times }],
    ['Turn right', { turn: TURN * times }],
  ] as const;

  return (
    <>
      <p class="small soft">Drag a joint line on its slab, or move it by taps.</p>
      <div class="row">
        <Choices<0 | 1>
          label="Joint line of"
          options={[
            [0, name(0)],
            [1, name(1)],
          ]}
          value={side}
          onChange={(next) => setSide(next)}
        />
        <StepSize large={large} onChange={setLarge} />
      </div>
      <div class="nudges">
        {moves.map(([says, move]) => (
          <button key={says} type="button" class="button" onClick={() => nudge(move)}>
            {says}
          </button>
        ))}
      </div>
    </>
  );
}
