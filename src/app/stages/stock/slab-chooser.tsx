import { type FaceName, slabsInOrder } from '../../../job';
import { newId } from '../../jobs';
import { Choices } from '../../parts/choices';
import { lacks } from './lacks';
import { slabIn } from './read-photos';
import type { StockView } from './view';

const FACES: readonly (readonly [FaceName, string])[] = [
  ['top', 'Top face'],
  ['bottom', 'Underside'],
];

/** The slabs in sawing order, each with what it lacks, and which face of the chosen one is in view. */
export function SlabChooser({ view }: { view: StockView }) {
  const job = view.store.job.value;
  const boards = view.stock.value === 'boards';
  const chosen = boards ? null : view.place.value?.slab.id;
  const several = Object.keys(job.flitches).length > 1;

  function addSlab() {
    const id = newId();
    view.store.edit('Add a slab', (draft) => void slabIn(draft, id));
    view.look(id);
  }

  return (
    <nav class="stack" aria-label="Slabs and boards">
      <div class="choices strip">
        {Object.values(job.flitches).flatMap((flitch) =>
          slabsInOrder(flitch).map((slab) => (
            <button
              key={slab.id}
              type="button"
              class="button"
              aria-pressed={slab.id === chosen}
              onClick={() => view.look(slab.id)}
            >
              <span class={lacks(slab) ? 'mark' : 'mark done'} aria-hidden="true">
                {lacks(slab) ? '○' : '✓'}
              </span>
              {several && `${flitch.name}: `}
              {slab.name}
            </button>
          )),
        )}
        <button type="button" class="button quiet" onClick={addSlab}>
          + Slab
        </button>
        <button type="button" class="button" aria-pressed={boards} onClick={() => view.lookAtBoards()}>
          Boards
        </button>
      </div>
      {!boards && view.place.value && (
        <div class="row">
          <Choices
            label="Face"
            options={FACES}
            value={view.faceName.value}
            onChange={(face) => view.look(view.place.peek()?.slab.id ?? '', face)}
          />
          <span class="small soft">{lacks(view.place.value.slab) ?? 'All there.'}</span>
        </div>
      )}
    </nav>
  );
}
