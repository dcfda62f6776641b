import type { Board } from '../../../job';
import { ChoiceField, LengthField, TextField } from '../../parts/fields';
import { MoistureField, PriceField } from '../../parts/stock-fields';
import type { JobStore } from '../../store';
import { BoardEnd } from './board-end';
import { BoardSpoilt } from './board-spoilt';
import { SPECIES_CHOICES } from './slab-panel';
import '../../styles/yield.css';

/** One board: its size, how it lies, what of it is spoilt, and how its end grain stands. */
export function BoardCard({ store, board }: { store: JobStore; board: Board }) {
  const set =
    <K extends keyof Board>(key: K, name: string) =>
    (value: Board[K]) =>
      store.edit(`${name} of ${board.name}`, (draft) => {
        const own = draft.boards[board.id];
        if (own) own[key] = value;
      });
  return (
    <section class="card stack" aria-label={board.name}>
      <div class="fields">
        <TextField label="Name" value={board.name} onChange={set('name', 'Name')} />
        <ChoiceField
          label="Species"
          value={board.species}
          options={SPECIES_CHOICES}
          onChange={set('species', 'Species')}
        />
        <LengthField label="Length" value={board.length} onChange={set('length', 'Length')} />
        <LengthField label="Width" value={board.width} onChange={set('width', 'Width')} />
        <LengthField label="Thickness" value={board.thickness} onChange={set('thickness', 'Thickness')} />
        <MoistureField value={board.moisture} onChange={set('moisture', 'Moisture')} />
        <PriceField value={board.price} onChange={set('price', 'Price')} />
      </div>
      {board.offcut && <p class="small soft">It is {board.offcut.name}.</p>}
      <BoardEnd board={board} onWarp={set('warp', 'Warp')} onRings={set('ringDegrees', 'End grain')} />
      <BoardSpoilt board={board} onChange={set('spoilt', 'What is spoilt')} />
      <button
        type="button"
        class="button cut"
        onClick={() =>
          store.edit(`Take out ${board.name}`, (draft) => {
            delete draft.boards[board.id];
          })
        }
      >
        Take it out
      </button>
    </section>
  );
}
