import type { Path } from '../path';
import { placeOf } from '../path';
import type { StockView } from '../view';
import { toggleStretch } from './outline-hand';

/** Chooses a stretch of the outline: from the chosen point to the one that is chosen next. */
export function StretchButton({ view, path }: { view: StockView; path: Path }) {
  const begun = view.hand.anchor.value !== null;
  return (
    <button
      type="button"
      class="button"
      aria-pressed={begun}
      disabled={!begun && placeOf(path, view.handle.value) < 0}
      onClick={() => toggleStretch(view)}
    >
      {begun ? 'Let the stretch go' : 'Begin a stretch here'}
    </button>
  );
}
