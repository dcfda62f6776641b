import type { OffcutForLeaves } from '../../../plan';
import { formatLength } from '../../../units';
import { newId } from '../../jobs';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';

/** Pieces listed before the rest is asked for. */
const FEW = 4;

/** Clear pieces that the plan leaves over, with the leaves that each would give; one of them can be taken as a board. */
export function BoardOffcuts({ store, offcuts }: { store: JobStore; offcuts: readonly OffcutForLeaves[] }) {
  const units = useUnits();
  const boards = Object.values(store.job.value.boards);
  const size = (mm: number) => formatLength(mm, units, { decimals: 0 });
  if (offcuts.length === 0) return null;
  const row = ({ name, board, size: [length, width], leaves, given }: OffcutForLeaves) => {
    const taken = boards.some(({ offcut }) => offcut?.name === name);
    return (
      <li key={name} class="offcut-row">
        <div>
          <strong>{name}</strong>
          <br />
          {size(length)} × {size(width)}
          {board
            ? ` × ${formatLength(board.thickness, units)}: ${leaves} ${leaves === 1 ? 'leaf' : 'leaves'}${given > 0 ? `, ${given} panel ${given === 1 ? 'face' : 'faces'}` : ''}`
            : ': its slab has no readings, so nobody knows how thick it is'}
        </div>
        {board && leaves > 0 && (
          <button
            type="button"
            class="button"
            disabled={taken}
            onClick={() =>
              store.edit(`Leaves from ${name}`, (draft) => {
                const id = newId();
                draft.boards[id] = { ...board, id };
              })
            }
          >
            {taken ? 'Taken' : 'Saw leaves from it'}
          </button>
        )}
      </li>
    );
  };
  return (
    <section class="card stack" aria-label="Offcuts for leaves">
      <h2>Offcuts of the slabs</h2>
      <ul class="plain list">{offcuts.slice(0, FEW).map(row)}</ul>
      {offcuts.length > FEW && (
        <details class="fold">
          <summary>{offcuts.length - FEW} more</summary>
          <ul class="plain list">{offcuts.slice(FEW).map(row)}</ul>
        </details>
      )}
      <p class="small soft">Each flattened by itself. One that is taken is a board under Stock from then on.</p>
    </section>
  );
}
