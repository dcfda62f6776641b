import { useState } from 'preact/hooks';
import { type Point, rectangle } from '../../../../geometry';
import { READING_SIGMA, type Slab } from '../../../../job';
import { readingGrid, USUAL_GRID } from '../../../../surface';
import { newId } from '../../../jobs';
import { LengthField, NumberField } from '../../../parts/fields';
import type { StockView } from '../view';

/** Adds spots in regular rows over the slab, or one alone. */
export function AddGrid({ view, slab }: { view: StockView; slab: Slab }) {
  const [rows, setRows] = useState<number>(USUAL_GRID.rows);
  const [columns, setColumns] = useState<number>(USUAL_GRID.columns);
  const [length, setLength] = useState<number | null>(null);
  const [width, setWidth] = useState<number | null>(null);
  const outline = slab.faces.top.outline;
  const wood =
    outline ??
    (length !== null && width !== null ? { outer: rectangle<'face'>(0, 0, length, width), holes: [] } : null);
  const add = (name: string, places: readonly Point<'face'>[]) =>
    view.editSlab(slab.id, name, (draft) => {
      for (const at of places) {
        const id = newId();
        draft.spots[id] = { id, at, top: null, bottom: null, thickness: null, sigma: READING_SIGMA };
      }
    });

  return (
    <details open={Object.keys(slab.spots).length === 0}>
      <summary>Add spots</summary>
      <div class="stack">
        <div class="fields">
          <NumberField whole label="Rows across" most={20} value={rows} onChange={setRows} />
          <NumberField whole label="Places along" most={60} value={columns} onChange={setColumns} />
          {!outline && <LengthField<true> optional label="Length of the slab" value={length} onChange={setLength} />}
          {!outline && <LengthField<true> optional label="Width of the slab" value={width} onChange={setWidth} />}
        </div>
        <div class="row">
          <button
            type="button"
            class="button"
            disabled={wood === null}
            onClick={() => wood && add(`Add a grid of ${rows} by ${columns}`, readingGrid(wood, rows, columns))}
          >
            Add {rows} × {columns} spots
          </button>
          <button type="button" class="button" onClick={() => add('Add a spot', [[0, 0]])}>
            Add one spot
          </button>
        </div>
      </div>
    </details>
  );
}
