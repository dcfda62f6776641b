import type { Path } from '../path';
import type { StockView } from '../view';
import { join, takeBack } from './follow';

/** A line that follows the edge of the wood and takes the place of a stretch of the outline. */
export function FollowCard({ view, path }: { view: StockView; path: Path }) {
  const held = view.hand.following.value;
  const blind = !view.face.value?.picture;
  return (
    <div class="stack">
      <p class="small soft">
        {held
          ? 'Tap on along the edge of the wood, and at last on the outline where the line joins it again.'
          : 'Tap where the outline leaves the edge of the wood. Or drag along the edge from there, and let go on the outline. Two fingers move the sheet.'}
        {blind && ' This face has no picture: the line runs straight.'}
      </p>
      <div class="row">
        <button
          type="button"
          class="button main"
          disabled={!held || held.set.length < 2}
          onClick={() => join(view, path)}
        >
          Join the outline
        </button>
        <button type="button" class="button" disabled={!held} onClick={() => takeBack(view)}>
          Take the last point back
        </button>
        <button type="button" class="button" disabled={!held} onClick={() => view.hand.letGo()}>
          Leave
        </button>
      </div>
      <p class="small soft">
        By keys, on the drawing: Enter puts a cross on the edge, arrow keys move it, Enter sets a point, J joins, Escape
        leaves.
      </p>
    </div>
  );
}
