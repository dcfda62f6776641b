import { useState } from 'preact/hooks';
import { Choices } from '../../parts/choices';
import { LengthField } from '../../parts/fields';
import { editedPath } from './edited-path';
import { PointList } from './point-list';
import type { StockView } from './view';

/** The outline of the face, point by point. Without a photo it can be begun as a rectangle. */
export function OutlinePanel({ view }: { view: StockView }) {
  const outline = view.face.value?.outline;
  const path = editedPath(view);
  if (!outline || !path) return <OutlineByTape view={view} />;
  return (
    <div class="stack">
      <p class="small soft">Drag a point, or tap the edge to add one. The same by number below.</p>
      {outline.holes.length > 0 && (
        <Choices
          label="Which edge"
          options={[-1, ...outline.holes.keys()].map(
            (ring) => [ring, ring < 0 ? 'Outer edge' : `Hole ${ring + 1}`] as const,
          )}
          value={view.ring.value}
          onChange={(ring) => {
            view.handle.value = null;
            view.ring.value = ring;
          }}
        />
      )}
      <PointList view={view} path={path} />
    </div>
  );
}

/** Where there is no photo: a rectangle by tape, to be shaped point by point. */
function OutlineByTape({ view }: { view: StockView }) {
  const [length, setLength] = useState<number | null>(null);
  const [width, setWidth] = useState<number | null>(null);
  return (
    <div class="stack">
      <p>No outline yet. A photo traces it; or begin with a rectangle by tape, and move its points.</p>
      <div class="fields">
        <LengthField<true> optional label="Length" value={length} onChange={setLength} />
        <LengthField<true> optional label="Width" value={width} onChange={setWidth} />
      </div>
      <button
        type="button"
        class="button"
        disabled={length === null || width === null}
        onClick={() => {
          if (length === null || width === null) return;
          view.editFace('Outline by tape', (face) => {
            face.outline = {
              outer: [
                [0, 0],
                [length, 0],
                [length, width],
                [0, width],
              ],
              holes: [],
            };
          });
        }}
      >
        Begin the outline
      </button>
    </div>
  );
}
