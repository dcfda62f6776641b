import type { Board } from '../../../job';
import { newId } from '../../jobs';
import { ChoiceField, LengthField, TextField } from '../../parts/fields';
import { MoistureField, PriceField } from '../../parts/stock-fields';
import type { JobStore } from '../../store';
import { SPECIES_CHOICES } from './slab-panel';

/** The boards that leaves are sawn from. */
export function BoardsPanel({ store }: { store: JobStore }) {
  const job = store.job.value;
  const species = Object.values(job.flitches)[0]?.species ?? SPECIES_CHOICES[0]?.[0] ?? '';

  function add() {
    const id = newId();
    store.edit('Add a board', (draft) => {
      draft.boards[id] = {
        id,
        name: `Board ${Object.keys(draft.boards).length + 1}`,
        species,
        // A common 8/4 board; every figure is typed over.
        length: 1800,
        width: 200,
        thickness: 50,
        moisture: null,
        price: null,
        leaves: {},
      };
    });
  }

  return (
    <div class="stack">
      <h2>Boards for leaves</h2>
      {Object.keys(job.boards).length === 0 && <p>No boards. Doors veneered with your own leaves need one.</p>}
      {Object.values(job.boards).map((board) => (
        <BoardCard key={board.id} store={store} board={board} />
      ))}
      <button type="button" class="button" onClick={add}>
        Add a board
      </button>
    </div>
  );
}

function BoardCard({ store, board }: { store: JobStore; board: Board }) {
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
