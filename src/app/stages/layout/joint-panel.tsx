import { useState } from 'preact/hooks';
import { seamWord } from '../../../grain';
import { type Placement, type Plan, wantedTop } from '../../../job';
import { formatLength } from '../../../units';
import { useStore } from '../../parts/job-context';
import type { PlanView } from '../../plan-view';
import { jointDrag } from './joint-drag';

const STILL = { by: 0, turn: 0, slide: 0 };
/** One tap moves the joint this far, mm. */
const STEP = 1;
/** One tap turns it this far, degrees: 2 mm at the end of a counter. */
const TURN = 0.1;

/** The joint of one top: how it looks and what it leaves in thickness, following the hand; and every move of it by single taps. */
export function JointPanel({ view, plan, placement }: { view: PlanView; plan: Plan; placement: Placement }) {
  const store = useStore();
  const job = store.job.value;
  const [side, setSide] = useState<0 | 1>(0);
  const drag = jointDrag(view);
  const dragged = view.dragged.value;
  const refused = drag.refused.value;
  const shown = dragged?.placement.top === placement.top ? dragged.placement : placement;
  const joint = shown.joints[0];
  const top = wantedTop(job, placement.top);
  if (!joint || !top || placement.strips.length !== 2) return null;
  const name = (i: 0 | 1) => {
    const strip = placement.strips[i]!;
    return job.flitches[strip.flitch]?.slabs[strip.slab]?.name ?? strip.slab;
  };
  const nudge = (move: Partial<typeof STILL>) => void drag.nudge(plan.id, placement.top, { ...STILL, ...move, side });
  const say = (mm: number) => formatLength(mm, job.units, { decimals: 1 });

  return (
    <fieldset class="card stack">
      <legend>Joint of {top.name}</legend>
      <dl class="plan-facts" aria-live="polite">
        <div>
          <dt>seam</dt>
          <dd>{joint.blend === null ? 'not known' : seamWord(joint.blend)}</dd>
        </div>
        <div>
          <dt>can finish at</dt>
          <dd>{shown.thickness === null ? 'no readings' : say(shown.thickness)}</dd>
        </div>
        <div class="whole">
          <dt>depth</dt>
          <dd>
            {say(shown.depth[0])} – {say(shown.depth[1])}
          </dd>
        </div>
      </dl>
      <p class="small soft">Drag a joint line on its slab, or move it by taps.</p>
      <div class="row">
        {([0, 1] as const).map((i) => (
          <button key={i} type="button" class="button" aria-pressed={side === i} onClick={() => setSide(i)}>
            {name(i)}
          </button>
        ))}
      </div>
      <div class="nudges">
        <button type="button" class="button" onClick={() => nudge({ by: -STEP })}>
          To the front
        </button>
        <button type="button" class="button" onClick={() => nudge({ by: STEP })}>
          To the back
        </button>
        <button type="button" class="button" onClick={() => nudge({ slide: -STEP })}>
          Slide right
        </button>
        <button type="button" class="button" onClick={() => nudge({ slide: STEP })}>
          Slide left
        </button>
        <button type="button" class="button" onClick={() => nudge({ turn: -TURN })}>
          Turn left
        </button>
        <button type="button" class="button" onClick={() => nudge({ turn: TURN })}>
          Turn right
        </button>
      </div>
      <div role="status">{refused?.placement === placement && <p class="note miss">{refused.why}</p>}</div>
    </fieldset>
  );
}
