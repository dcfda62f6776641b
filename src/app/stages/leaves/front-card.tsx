import { seamDoes } from '../../../grain';
import { alike, sameSize } from '../../../leaves';
import type { FrontReport, LeafUse } from '../../../plan';
import { formatLength } from '../../../units';
import { Choices } from '../../parts/choices';
import { ChoiceField, TickField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { JointStrips } from './joint-strips';
import type { LeafImages } from './leaf-images';
import { inWords } from './leaf-words';
import { PieceList } from './piece-list';
import type { SetView } from './set-view';

interface FrontCardProps {
  view: SetView;
  front: FrontReport;
  fronts: readonly FrontReport[];
  stack: readonly LeafUse[];
  images: LeafImages;
}

const SIDES = [
  ['face', 'Face'],
  ['back', 'Back'],
] as const;

/** The chosen front, from before or from behind: its leaves, each to be exchanged, its joints, and whether it stays when the rest is laid out again. */
export function FrontCard({ view, front, fronts, stack, images }: FrontCardProps) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const side = view.side.value;
  return (
    <section class="card stack" aria-label={`Front ${front.number}`}>
      <h2>
        {front.number}: {front.name}
      </h2>
      <p class="small soft">
        {say(front.finished.width)} × {say(front.finished.height)}; pressed {say(front.pressed.width)} ×{' '}
        {say(front.pressed.height)}.
      </p>
      {front.joints.length > 0 && (
        // A line of its own, which is there before its joint is looked at: nothing jumps when leaves are exchanged.
        <p class="small soft">
          {front.joints.length === 1 ? 'Its joint' : 'Its weakest joint'}{' '}
          <strong>{front.word ? seamDoes(front.word) : 'is in no picture'}</strong>.
        </p>
      )}
      <Choices
        tabs
        label="Side of the front"
        options={SIDES}
        value={side}
        onChange={(next) => view.choose(front.id, 0, next)}
      />
      {side === 'face' ? (
        <>
          <PieceList view={view} front={front.id} side="face" pieces={front.pieces} stack={stack} />
          <Against view={view} />
          <JointStrips front={front} images={images} />
          {front.gaps.map(({ to, blend, word }) => (
            <p key={to} class="leaf-gap">
              <span>Grain on over the gap to {to}</span>
              <span>
                <strong>{word ?? 'no picture tells'}</strong>
                {blend !== null && <span class="number"> {blend.toFixed(2)}</span>}
              </span>
            </p>
          ))}
        </>
      ) : front.back.length > 0 ? (
        <>
          <p class="small soft">As seen from behind, from left to right. A back may show what a face may not.</p>
          <PieceList view={view} front={front.id} side="back" pieces={front.back} stack={stack} />
          <Against view={view} />
        </>
      ) : (
        <p>It has no back: a panel with one veneered face bows.</p>
      )}
      <Others view={view} front={front} fronts={fronts} />
      <TickField
        label="Keep its leaves when the rest is laid out again"
        value={front.locked}
        onChange={(lock) => view.lock(front.id, lock)}
      />
    </section>
  );
}

/** What speaks against the last exchange, below the leaves that it was made with. */
function Against({ view }: { view: SetView }) {
  const against = view.against.value;
  if (against.length === 0) return null;
  return (
    <div class="note miss" role="alert">
      {against.map((words) => (
        <p key={words}>{inWords(view.store.job.value, words)}</p>
      ))}
    </div>
  );
}

/** Other fronts of its size, to change leaves or backs with. */
function Others({ view, front, fronts }: Pick<FrontCardProps, 'view' | 'front' | 'fronts'>) {
  const set = view.kept.value;
  const own = set?.fronts[front.id];
  const backs = view.side.value === 'back';
  const others = fronts.filter(({ id, back }) => {
    const other = set?.fronts[id];
    if (id === front.id || !own || !other) return false;
    return backs ? sameSize(own, other) && front.back.length + back.length > 0 : alike(own, other);
  });
  if (others.length === 0) return null;
  return (
    <ChoiceField
      label={backs ? 'Change backs with another front' : 'Change leaves with another front'}
      value=""
      options={[
        ['', 'choose a front of this size'],
        ...others.map(({ id, number, name }) => [id, `${number}: ${name}`] as const),
      ]}
      onChange={(id) => id && void view.swap(front.id, id, backs ? 'backs' : 'leaves')}
    />
  );
}
