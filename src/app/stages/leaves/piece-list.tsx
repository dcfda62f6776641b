import type { CellName } from '../../../leaves';
import type { LeafUse, PieceReport } from '../../../plan';
import { formatLength } from '../../../units';
import { ChoiceField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import { leafName, leafSays, liesSays } from './leaf-words';
import type { SetView } from './set-view';

interface PieceListProps {
  view: SetView;
  front: string;
  side: CellName['side'];
  pieces: readonly PieceReport[];
  stack: readonly LeafUse[];
}

/** The pieces of a front's face or back, each with its leaf, which can be exchanged. */
export function PieceList({ view, front, side, pieces, stack }: PieceListProps) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const several = new Set(stack.map(({ board }) => board)).size > 1;
  const leaves = stack
    .filter(({ without }) => !without)
    .map((leaf) => [leafName(leaf), leafSays(leaf, several)] as const);
  const isChosen = (i: number) => view.side.value === side && view.cell.value === i;
  return (
    <ol class="list">
      {pieces.map((piece, i) => (
        <li key={piece.number} class={isChosen(i) ? 'leaf-piece chosen' : 'leaf-piece'}>
          <ChoiceField
            label={`${side === 'face' ? 'Piece' : 'Piece of the back'} ${piece.number}: leaf`}
            value={leafName(piece)}
            options={leaves}
            onChange={(to) => {
              view.choose(front, i, side);
              void view.exchange({ front, side, cell: i }, to);
            }}
          />
          <span class="small soft">
            {liesSays(piece)}; {say(piece.along[0])}–{say(piece.along[1])} along
          </span>
        </li>
      ))}
    </ol>
  );
}
