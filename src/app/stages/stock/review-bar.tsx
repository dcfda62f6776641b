import { proposals, settle, sureness, turnTo } from './defect-review';
import { letters } from './face-items';
import type { StockView } from './view';

/** Below the drawing: the proposed defect that is looked at, to accept or drop, and the way to the next. */
export function ReviewBar({ view }: { view: StockView }) {
  const face = view.face.value;
  if (!face || view.panel.value !== 'defects' || view.drawn.value || view.tying.value || view.measuring.value)
    return null;
  const all = proposals(face);
  if (all.length === 0) return null;
  const defect = view.defectId.value ? face.defects[view.defectId.value] : undefined;
  const proposed = defect && sureness(defect) !== null ? defect : null;
  const letter = proposed && letters(face).get(proposed.id);
  return (
    <fieldset class="review-bar">
      <legend class="hidden-text">Proposed defects</legend>
      <button type="button" class="button quiet" aria-label="Previous proposal" onClick={() => turnTo(view, -1)}>
        ‹
      </button>
      {proposed ? (
        <>
          <span class="small">
            <strong>
              {letter}: {proposed.kind}
            </strong>
            , {sureness(proposed)}
          </span>
          <button type="button" class="button main" onClick={() => settle(view, proposed.id, 'accept')}>
            Accept
          </button>
          <button type="button" class="button" onClick={() => settle(view, proposed.id, 'drop')}>
            Drop
          </button>
        </>
      ) : (
        <span class="small">{all.length === 1 ? 'One defect' : `${all.length} defects`} to look at. Tap a letter.</span>
      )}
      <button type="button" class="button quiet" aria-label="Next proposal" onClick={() => turnTo(view, 1)}>
        ›
      </button>
    </fieldset>
  );
}
