import { newId } from '../../jobs';
import { BoardCard } from './board-card';
import { BoardFaces } from './leaves/board-faces';
import { BoardLeaves } from './leaves/board-leaves';
import { SPECIES_CHOICES } from './slab-panel';
import type { StockView } from './view';

/** The boards that leaves are sawn from. */
export function BoardsPanel({ view }: { view: StockView }) {
  const { store } = view;
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
        <div key={board.id} class="stack">
          <BoardCard store={store} board={board} />
          <BoardFaces view={view} board={board} />
          <BoardLeaves view={view} board={board} />
        </div>
      ))}
      <button type="button" class="button" onClick={add}>
        Add a board
      </button>
    </div>
  );
}
