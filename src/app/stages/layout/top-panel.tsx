import { seamWord } from '../../../grain';
import { type Joint, type Placement, type Plan, wantedTop } from '../../../job';
import type { PlanReport } from '../../../plan';
import { formatLength } from '../../../units';
import { TickField } from '../../parts/fields';
import { useStore } from '../../parts/job-context';
import type { PlanView } from '../../plan-view';
import { JointAgain, JudgeAgain } from './joint-again';
import { JointMoves } from './joint-moves';
import { SeamList } from './seam-list';
import { roughThickness } from './top-items';

interface TopPanelProps {
  view: PlanView;
  plan: Plan;
  placement: Placement;
  /** Null while the plan is still computed. */
  report: PlanReport | null;
}

/** What a joint is, where it is more than a seam of two slabs. */
function madeWords({ made, ripped }: Joint): string | null {
  if (made === 'book') return 'Both halves are opened like a book: one mirrors the other at the joint.';
  if (made === 'reglued')
    return `The ${ripped === 'pith' ? 'pith' : 'crack'} is ripped out here, and the slab glued shut.`;
  return null;
}

/** One top of the plan: how its seam looks and where it shows, what flattening leaves, its moves; following the hand. */
export function TopPanel({ view, plan, placement, report }: TopPanelProps) {
  const store = useStore();
  const job = store.job.value;
  const moved = view.dragged.value;
  const held = moved?.placement.top === placement.top;
  const shown = held ? moved.placement : placement;
  const top = wantedTop(job, placement.top);
  if (!top) return null;
  const say = (mm: number) => formatLength(mm, job.units, { decimals: 1 });
  const joint = shown.joints[0];
  const blanks = report?.slabs.flatMap((slab) => slab.blanks).filter((blank) => blank.top === top.id) ?? [];
  const rough = blanks.map(roughThickness).filter((mm) => mm !== null);
  const locked = job.locks[top.id]?.plan === plan.id;

  return (
    <fieldset class="card stack">
      <legend>{joint ? `Joint of ${top.name}` : top.name}</legend>
      {joint && madeWords(joint) && <p class="small">{madeWords(joint)}</p>}
      <dl class="plan-facts" aria-live="polite">
        {shown.joints.map(({ blend }, i) => (
          <div key={`${i + 1}`} class="whole">
            <dt>{shown.joints.length > 1 ? `seam ${i + 1}` : 'seam'}</dt>
            <dd>{blend === null ? 'not known' : seamWord(blend)}</dd>
          </div>
        ))}
        <div class="whole">
          <dt>depth</dt>
          <dd>{[...new Set(shown.depth.map(say))].join(' – ')}</dd>
        </div>
        {rough.length > 0 && (
          <div class="whole">
            <dt>rough, as sawn</dt>
            <dd>{rough.map((mm) => `${formatLength(mm, job.units, { decimals: 0 })} thick`).join(' and ')}</dd>
          </div>
        )}
        <div class="whole">
          <dt>flattened, it can finish at</dt>
          <dd>{shown.thickness === null ? 'no readings' : `${held ? 'about ' : ''}${say(shown.thickness)}`}</dd>
        </div>
      </dl>
      {shown.joints.some(({ before }) => before) && <JudgeAgain view={view} plan={plan} placement={placement} />}
      {placement.strips.length === 2 && (
        <>
          <JointMoves view={view} plan={plan} placement={placement} />
          <JointAgain view={view} plan={plan} placement={placement} />
        </>
      )}
      <TickField
        label="Locked: it stays here when the rest is laid out again"
        value={locked}
        onChange={(lock) => view.lock(plan, placement, lock)}
      />
      {/* Below what moves the joint: it comes when the joint was looked along, and changes with it. */}
      {placement.strips.length === 2 && <SeamList view={view} placement={placement} length={top.length} />}
    </fieldset>
  );
}
