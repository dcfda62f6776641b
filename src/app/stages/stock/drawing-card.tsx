import { LengthField } from '../../parts/fields';
import { addByNumber, finishDrawn, SHAPES } from './drawn-shapes';
import { editedPath } from './edited-path';
import { PointList } from './point-list';
import type { StockView } from './view';

/** What is being drawn: by taps on the sheet, or points by number. */
export function DrawingCard({ view }: { view: StockView }) {
  const drawn = view.drawn.value;
  const face = view.face.value;
  const path = editedPath(view);
  if (!drawn || !path || !face) return null;
  const { title, hint, least } = SHAPES[drawn.shape];
  return (
    <div class="stack">
      <h2>{title}</h2>
      <p class="small soft">{hint} Or add points and type where they lie.</p>
      {drawn.shape === 'crack' && (
        <LengthField
          label="Width at the next place"
          sign="zero"
          finest={32}
          value={drawn.width}
          onChange={(width) => {
            view.drawn.value = { ...drawn, width };
          }}
        />
      )}
      {drawn.points.length > 0 && <PointList view={view} path={path} />}
      <div class="row">
        <button type="button" class="button" onClick={() => addByNumber(view, face)}>
          Add a point
        </button>
        <button
          type="button"
          class="button main"
          disabled={drawn.points.length < least}
          onClick={() => finishDrawn(view)}
        >
          Done
        </button>
        <button
          type="button"
          class="button"
          onClick={() => {
            view.drawn.value = null;
          }}
        >
          Leave
        </button>
      </div>
    </div>
  );
}
