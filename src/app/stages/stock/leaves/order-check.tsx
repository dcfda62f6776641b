import { signal } from '@preact/signals';
import type { SequenceTold } from '../../../../../workers/leaves.worker';
import type { Board } from '../../../../job';
import { announce } from '../../../announce';
import { storedLeaves } from '../../../stored-leaves';
import { leavesWork } from '../../../work';
import { AS_IT_WAS, work } from '../photo-work';
import type { StockView } from '../view';
import { renumber } from './leaf-shots';
import { editBoard } from './shot-panel';
import { turnLeaves } from './turn-leaf';

/** What was told of a board's leaves, as they stood then. */
const told = signal<{ readonly leaves: Board['leaves']; readonly of: SequenceTold } | null>(null);

/** Whether the leaves are numbered as they were sawn, asked of their figure, with what mends it. */
export function OrderCheck({ view, board }: { view: StockView; board: Board }) {
  const pictured = Object.values(board.leaves).filter(({ faces }) => faces.top.picture && faces.top.outline).length;
  if (pictured < 2) return null;
  const said = told.value?.leaves === board.leaves ? told.value.of : null;
  return (
    <div class="stack">
      {said ? (
        <Findings view={view} board={board} said={said} />
      ) : (
        <button type="button" class="button" onClick={() => void check(view, board)}>
          Check the order by their figure
        </button>
      )}
    </div>
  );
}

async function check(view: StockView, { id, leaves }: Board): Promise<void> {
  const said = await work(view, 'Holding the leaves against each other', AS_IT_WAS, async (signal, report) => {
    const faces = await storedLeaves(view.store, id);
    const job = view.store.job.peek();
    return leavesWork.call(signal, report, (api, call, tell) => api.sequence(call, job, id, faces, tell));
  });
  if (!said) return;
  told.value = { leaves, of: said };
  announce(said.findings.map(({ says }) => says).join(' ') || AGREES);
}

const AGREES = 'Their figure goes on from each leaf to the next as they are numbered.';

function Findings({ view, board, said }: { view: StockView; board: Board; said: SequenceTold }) {
  const { findings, order } = said;
  if (findings.length === 0) return <p class="note measured">{AGREES}</p>;
  const isOrder = findings.some(({ kind }) => kind === 'out of order' || kind === 'backwards');
  const endForEnd = findings.filter(({ kind }) => kind === 'end for end').flatMap(({ leaves }) => leaves);
  const turned = findings.filter(({ kind }) => kind === 'other face').flatMap(({ leaves }) => leaves);
  const swappable = turned.filter((id) => board.leaves[id]?.faces.bottom.outline);
  return (
    <div class="note miss stack" role="status">
      {findings.map(({ says }) => (
        <p key={says}>{says}</p>
      ))}
      <div class="row">
        {isOrder && (
          <button
            type="button"
            class="button"
            onClick={() =>
              editBoard(view, board.id, 'Number the leaves by their figure', (own) => renumber(own, order))
            }
          >
            Number them by their figure
          </button>
        )}
        {endForEnd.length > 0 && (
          <button type="button" class="button" onClick={() => void turnLeaves(view.store, board.id, endForEnd)}>
            Turn {endForEnd.length === 1 ? 'it' : 'them'} end for end
          </button>
        )}
        {swappable.length > 0 && (
          <button
            type="button"
            class="button"
            onClick={() =>
              editBoard(view, board.id, 'Change front and back of leaves', (own) => {
                for (const id of swappable) {
                  const faces = own.leaves[id]?.faces;
                  if (faces) [faces.top, faces.bottom] = [faces.bottom, faces.top];
                }
              })
            }
          >
            Change front and back
          </button>
        )}
      </div>
    </div>
  );
}
