import { lacksForLookAhead } from '../../../plan';
import { TroubleNote } from '../../parts/problem';
import { Progress } from '../../parts/progress';
import { go, jobAddress } from '../../route';
import type { JobStore } from '../../store';
import { aheadView } from './ahead-view';
import { trustSays } from './ahead-words';

/** How the leaves are likely to look before the saw: asked for, how far it can be trusted, and the doors laid on them. */
export function AheadCard({ store }: { store: JobStore }) {
  const view = aheadView(store);
  const running = view.running.value;
  const { boards, doors, units } = store.job.value;
  const all = Object.values(boards).map((board) => ({ board, seen: view.of(board), lacks: lacksForLookAhead(board) }));
  const some = all.some(({ seen }) => seen);
  const set = some ? view.set.value : null;
  if (all.length === 0) return null;
  return (
    <section class="card stack" aria-label="How the leaves are likely to look">
      <h3>How the leaves are likely to look</h3>
      <p class="small soft">
        An estimate from photos of both faces of the board, carried along the rings. No leaf has been seen.
      </p>
      {all.map(({ board, seen, lacks }) => (
        <div key={board.id} class="stack">
          {seen ? <p class="small">{trustSays(board, seen, units)}</p> : null}
          {lacks ? (
            <p class="small">
              {board.name}: {lacks}
            </p>
          ) : (
            !running && (
              <button type="button" class="button" onClick={() => void view.look(board)}>
                {seen ? `Look ahead again at ${board.name}` : `Look ahead at ${board.name}`}
              </button>
            )
          )}
        </div>
      ))}
      {all.some(({ lacks }) => lacks) && (
        <button type="button" class="button quiet" onClick={() => go(jobAddress(store.id, 'stock'))}>
          To the boards under Stock
        </button>
      )}
      {running && (
        <Progress label={running.label} fraction={running.fraction} note={running.note} onStop={running.stop} />
      )}
      <TroubleNote trouble={view.trouble.value} />
      {some && !running && Object.keys(doors).length > 0 && (
        <button type="button" class="button main" onClick={() => void view.layOut()}>
          {set ? 'Lay the doors out on them again' : 'Lay the doors out on them'}
        </button>
      )}
      {set && !running && (
        <>
          <p>
            <strong>Estimate:</strong> {laidSays(Object.keys(set.set.fronts).length)}. It is not kept: once the board is
            sawn, lay the doors out on its own leaves.
          </p>
          <button type="button" class="button" onClick={() => void view.print()}>
            Print this estimate
          </button>
          {[...new Set(set.set.misses.map(({ reason }) => reason))].map((reason) => (
            <p key={reason} class="note">
              {reason}
            </p>
          ))}
        </>
      )}
    </section>
  );
}

const laidSays = (fronts: number): string => (fronts === 1 ? '1 front laid' : `${fronts} fronts laid`);
