import { bounds } from '../../../../geometry';
import { formatLength } from '../../../../units';
import { NumberField } from '../../../parts/fields';
import { useUnits } from '../../../parts/job-context';
import type { StockView } from '../view';
import { LEAF_FACES, placeAt, shotsOf } from './leaf-shots';
import { editBoard } from './shot-panel';
import { turnLeaves } from './turn-leaf';

/** One leaf: its number, its size, and the photo that it was measured from. */
export function LeafPanel({ view }: { view: StockView }) {
  const units = useUnits();
  const place = view.place.value;
  const board = view.store.job.value.boards[place?.flitch.id ?? ''];
  const leaf = board?.leaves[place?.slab.id ?? ''];
  const face = view.face.value;
  if (!board || !leaf || !face) return null;
  const size = face.outline && bounds(face.outline.outer);
  const say = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const shot = shotsOf(board).find(
    (one) => one.face === view.faceName.value && one.leaves.some((own) => own.leaf.id === leaf.id),
  );
  const called = LEAF_FACES.find(([name]) => name === view.faceName.value)?.[1].toLowerCase();
  return (
    <div class="stack">
      {size ? (
        <p>
          {say(size.maxX - size.minX)} long, {say(size.maxY - size.minY)} wide over all.
        </p>
      ) : (
        <p class="note">Of its {called} nothing was read yet: add a photo of it under its board.</p>
      )}
      <div class="fields">
        <NumberField
          whole
          least={1}
          most={999}
          label="Place in sawing order"
          value={leaf.place}
          onChange={(next) => editBoard(view, board.id, 'Number of a leaf', (own) => placeAt(own, leaf.id, next))}
        />
      </div>
      <div class="row">
        {shot && (
          <button type="button" class="button" onClick={() => view.lookAtBoards({ shot, face: shot.face })}>
            Its photo
          </button>
        )}
        <button type="button" class="button" onClick={() => void turnLeaves(view.store, board.id, [leaf.id])}>
          Turn it end for end
        </button>
        <button
          type="button"
          class="button cut"
          onClick={() => {
            editBoard(view, board.id, `Take out leaf ${leaf.place}`, (own) => {
              delete own.leaves[leaf.id];
            });
            view.lookAtBoards();
          }}
        >
          Take it out
        </button>
      </div>
    </div>
  );
}
