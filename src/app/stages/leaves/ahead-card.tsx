import { lacksForLookAhead } from '../../../plan';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { TroubleNote } from '../../parts/problem';
import { Progress } from '../../parts/progress';
import { go, jobAddress } from '../../route';
import type { JobStore } from '../../store';
import { aheadView, type BoardAhead } from './ahead-view';

/** How the leaves are likely to look before the saw: asked for, how far it can be trusted, and the doors laid on them. */
export function AheadCard({ store }: { store: JobStore }) {
  const units = useUnits();
  const view = aheadView(store);
  const running = view.running.value;
  const { boards, doors } = store.job.value;
  const all = Object.values(boards).map((board) => ({ board, seen: view.of(board), lacks: lacksForLookAhead(board) }));
  const some = all.some(({ seen }) => seen);
  const set = some ? view.set.value : null;
  const say = (mm: number) => formatLength(mm, units, { decimals: 0, unit: true });
  if (all.length === 0) return null;
  return (
    <section class="card stack" aria-label="How the leaves are likely to look">
      <h3>How the leaves are likely to look</h3>
      <p class="small soft">
        An estimate from photos of both faces of the board, carried along the rings. No leaf has been seen.
      </p>
      {all.map(({ board, seen, lacks }) => (
        <div key={board.id} class="stack">
          {seen ? <p class="small">{trustSays(board.name, seen, board.thickness, say)}</p> : null}
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

function trustSays(
  name: string,
  { reach, leaves }: BoardAhead,
  thickness: number,
  say: (mm: number) => string,
): string {
  const good = leaves.filter(({ trusted }) => trusted).length;
  if (2 * reach >= thickness)
    return `${name}: the rings were followed from face to face. Lines stand within about half a ring of where they will be.`;
  const near = `to about ${say(reach)} from either face lines stand within about half a ring of where they will be (${good} of ${leaves.length} leaves)`;
  return `${name}: ${near}; deeper, trust only their run and their spacing.`;
}
