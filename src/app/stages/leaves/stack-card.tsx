import type { LeafUse } from '../../../plan';
import { leafName } from './leaf-words';
import type { SetView } from './set-view';

/** The leaves in sawing order, with what is used where; any of them can be left out, or tried without. */
export function StackCard({ view, stack }: { view: SetView; stack: readonly LeafUse[] }) {
  const boards = [...new Set(stack.map(({ board }) => board))];
  const busy = view.running.value !== null;
  const whatIf = view.whatIf.value;
  return (
    <details class="card" open>
      <summary>The leaves in sawing order</summary>
      <div class="stack">
        {boards.map((board) => {
          const own = stack.filter((leaf) => leaf.board === board);
          return (
            <table key={board} class="leaf-stack">
              <caption class={boards.length > 1 ? undefined : 'hidden-text'}>{own[0]?.boardName}</caption>
              <thead>
                <tr>
                  <th scope="col">leaf</th>
                  <th scope="col">goes to front</th>
                  <th scope="col">
                    <span class="hidden-text">What can be done</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {own.map((leaf) => (
                  <tr key={leaf.leaf}>
                    <th scope="row">{leaf.place}</th>
                    <td>
                      {leaf.uses.map(({ front, panel, side, piece }) => (
                        <button
                          key={`${front} ${side} ${piece}`}
                          type="button"
                          class="button quiet"
                          onClick={() => view.choose(front, piece - 1, side)}
                        >
                          {panel}
                          {side === 'back' ? ' back' : ''}, piece {piece}
                        </button>
                      ))}
                      {leaf.uses.length === 0 && <span class="soft">{leaf.without ? 'left out' : 'spare'}</span>}
                    </td>
                    <td>
                      {leaf.without ? (
                        <button
                          type="button"
                          class="button"
                          disabled={busy}
                          aria-label={`Take leaf ${leaf.place} back`}
                          onClick={() => view.leaveOut(leafName(leaf), false)}
                        >
                          Take back
                        </button>
                      ) : (
                        <button
                          type="button"
                          class="button"
                          disabled={busy || whatIf !== null}
                          aria-label={`What if leaf ${leaf.place} is spoilt`}
                          onClick={() => void view.tryWithout([leafName(leaf)])}
                        >
                          Without?
                        </button>
                      )}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          );
        })}
      </div>
    </details>
  );
}
