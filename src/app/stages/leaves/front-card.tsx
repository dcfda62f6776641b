import { alike } from '../../../leaves';
import type { FrontReport, LeafUse } from '../../../plan';
import { formatLength } from '../../../units';
import { ChoiceField, TickField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { JointStrips } from './joint-strips';
import type { LeafImages } from './leaf-images';
import { inWords } from './set-card';
import type { SetView } from './set-view';

interface FrontCardProps {
  view: SetView;
  front: FrontReport;
  fronts: readonly FrontReport[];
  stack: readonly LeafUse[];
  images: LeafImages;
}

const FLIPS = {
  none: '',
  over: ', turned over',
  end: ', end for end',
  'over and end': ', over and end for end',
} as const;

/** `board leaf`, by which sets name leaves. */
export const leafName = ({ board, leaf }: { board: string; leaf: string }): string => `${board} ${leaf}`;

/** A leaf as it is chosen from a list. */
export function leafSays({ place, boardName, uses, without }: LeafUse, several: boolean): string {
  const used = uses.map(({ panel, side }) => `${panel}${side === 'back' ? ' back' : ''}`).join(', ');
  return `${place}${several ? ` of ${boardName}` : ''}${without ? ' (left out)' : used ? ` (front ${used})` : ' (spare)'}`;
}

/** The chosen front: its leaves, each to be exchanged, its joints, and whether it stays when the rest is laid out again. */
export function FrontCard({ view, front, fronts, stack, images }: FrontCardProps) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const set = view.kept.value;
  const own = set?.fronts[front.id];
  const others = fronts.filter(({ id }) => {
    const other = set?.fronts[id];
    return id !== front.id && own && other && alike(own, other);
  });
  const several = new Set(stack.map(({ board }) => board)).size > 1;
  const leaves = stack
    .filter(({ without }) => !without)
    .map((leaf) => [leafName(leaf), leafSays(leaf, several)] as const);
  const against = view.against.value;
  return (
    <section class="card stack" aria-label={`Front ${front.number}`}>
      <h2>
        {front.number}: {front.name}
      </h2>
      <p class="small soft">
        {say(front.finished.width)} × {say(front.finished.height)}; pressed {say(front.pressed.width)} ×{' '}
        {say(front.pressed.height)}
        {front.word && (
          <>
            . The joint that shows most: <strong>{front.word}</strong>
          </>
        )}
      </p>
      {against.length > 0 && (
        <div class="note miss" role="alert">
          {against.map((words) => (
            <p key={words}>{sentence(inWords(view.store.job.value, words))}</p>
          ))}
        </div>
      )}
      <ol class="list">
        {front.pieces.map((piece, i) => (
          <li key={piece.number} class={i === view.cell.value ? 'leaf-piece chosen' : 'leaf-piece'}>
            <ChoiceField
              label={`Piece ${piece.number}: leaf`}
              value={leafName(piece)}
              options={leaves}
              onChange={(to) => {
                view.choose(front.id, i);
                void view.exchange({ front: front.id, side: 'face', cell: i }, to);
              }}
            />
            <span class="small soft">
              {piece.face === 'top' ? 'outer' : 'inner'} face{FLIPS[piece.flip]}; {say(piece.along[0])}–
              {say(piece.along[1])} along
            </span>
          </li>
        ))}
      </ol>
      <JointStrips front={front} images={images} />
      {others.length > 0 && (
        <ChoiceField
          label="Change leaves with another front"
          value=""
          options={[
            ['', 'choose a front of this size'],
            ...others.map(({ id, number, name }) => [id, `${number}: ${name}`] as const),
          ]}
          onChange={(id) => id && void view.swap(front.id, id)}
        />
      )}
      <TickField
        label="Keep its leaves when the rest is laid out again"
        value={front.locked}
        onChange={(lock) => view.lock(front.id, lock)}
      />
      <p class="small soft">
        {front.back.length > 0
          ? `Its back: ${front.back.map(({ place }) => `leaf ${place ?? '?'}`).join(', ')}.`
          : 'It has no back.'}
      </p>
    </section>
  );
}

const sentence = (words: string): string => words.replace(/^./, (first) => first.toUpperCase()).replace(/\.?$/, '.');
