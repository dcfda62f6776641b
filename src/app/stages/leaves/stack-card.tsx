import type { Job } from '../../../job';
import type { FrontReport, LeafUse } from '../../../plan';
import type { LeafImages } from './leaf-images';
import { LeafStrip } from './leaf-strip';
import { leafName } from './leaf-words';
import type { SetView } from './set-view';

interface StackCardProps {
  view: SetView;
  boards: Job['boards'];
  stack: readonly LeafUse[];
  fronts: readonly FrontReport[];
  images: LeafImages;
}

/** The leaves in sawing order, with what is used where; any of them can be left out, or tried without. */
export function StackCard({ view, boards: all, stack, fronts, images }: StackCardProps) {
  const boards = [...new Set(stack.map(({ board }) => board))];
  const busy = view.running.value !== null;
  const whatIf = view.whatIf.value;
  return (
    <details class="card" open>
      <summary>The leaves in sawing order</summary>
      <div class="stack">
        <p class="small soft">Each from its marked end, with what is cut out of it; dashed: for a back.</p>
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
                      <Strip leaf={leaf} boards={all} fronts={fronts} images={images} />
                      {frontsOfLeaf(leaf).map(({ front, panel, side, piece }) => (
                        <button
                          key={`${front} ${side}`}
                          type="button"
                          class="button quiet"
                          aria-label={`Front ${panel}${side === 'back' ? ', its back' : ''}`}
                          onClick={() => view.choose(front, piece - 1, side)}
                        >
                          {panel}
                          {side === 'back' ? ' back' : ''}
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
                          aria-label={`Without? What if leaf ${leaf.place} is spoilt`}
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

function Strip({
  leaf,
  boards,
  fronts,
  images,
}: Pick<StackCardProps, 'boards' | 'fronts' | 'images'> & { leaf: LeafUse }) {
  const outer = boards[leaf.board]?.leaves[leaf.leaf]?.faces.top;
  return outer?.outline ? <LeafStrip leaf={leaf} outer={outer} fronts={fronts} images={images} /> : null;
}

/** Each front that a leaf goes to, once for its face and once for its back, with the first piece there. */
const frontsOfLeaf = ({ uses }: LeafUse): LeafUse['uses'] =>
  uses.filter(({ front, side }, i) => uses.findIndex((one) => one.front === front && one.side === side) === i);
