import { acceptSure, proposals, sureness } from './defect-review';
import { DefectRow } from './defect-row';
import { DrawingCard } from './drawing-card';
import { draw } from './drawn-shapes';
import { letters } from './face-items';
import { OtherFace } from './other-face';
import type { StockView } from './view';

/** The defects of the face: what the photo proposed, to accept, change or drop, and what is drawn by hand. */
export function DefectsPanel({ view }: { view: StockView }) {
  const face = view.face.value;
  if (view.drawn.value) return <DrawingCard view={view} />;
  if (!face) return null;
  const names = letters(face);
  const waiting = proposals(face);
  const settled = Object.values(face.defects).filter((defect) => sureness(defect) === null);
  const sure = waiting.filter((defect) => sureness(defect) === 'sure').length;
  const row = (defect: (typeof waiting)[number]) => (
    <DefectRow key={defect.id} view={view} defect={defect} letter={names.get(defect.id) ?? ''} />
  );
  return (
    <div class="stack">
      {waiting.length > 0 && (
        <section class="stack" aria-labelledby="to-look-at">
          <h2 id="to-look-at">{waiting.length} to look at</h2>
          <p class="small soft">The doubtful come first. On the drawing: N next, A accept, D drop.</p>
          {sure > 0 && (
            <button type="button" class="button" onClick={() => acceptSure(view)}>
              {sure === 1 ? 'Accept the sure one' : `Accept the ${sure} sure ones`}
            </button>
          )}
          <ul class="list">{waiting.map(row)}</ul>
        </section>
      )}
      {settled.length > 0 && (
        <section class="stack" aria-labelledby="settled">
          <h2 id="settled">Settled</h2>
          <ul class="list">{settled.map(row)}</ul>
        </section>
      )}
      {waiting.length + settled.length === 0 && <p class="soft">No defects marked on this face.</p>}
      <div class="row">
        <button type="button" class="button" onClick={() => draw(view, 'crack')}>
          Draw a crack
        </button>
        <button type="button" class="button" onClick={() => draw(view, 'area')}>
          Draw a knot or void
        </button>
      </div>
      <OtherFace view={view} />
    </div>
  );
}
