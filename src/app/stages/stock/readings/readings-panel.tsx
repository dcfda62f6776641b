import { useState } from 'preact/hooks';
import { bounds, crossingsAtX, regionContains } from '../../../../geometry';
import { READING_SIGMA, type Slab, type Spot } from '../../../../job';
import { newId } from '../../../jobs';
import { LengthField, NumberField, TickField } from '../../../parts/fields';
import type { StockView } from '../view';
import { QuestionsCard } from './questions-card';
import { SheetPrint } from './sheet-print';
import { SlabAnswer } from './slab-answer';
import { StringCard } from './string-card';
import { ThumbEntry } from './thumb-entry';
import { WarpFields } from './warp-fields';

/** How far from the ends the outermost spots of a grid stand, as a share of the length; and from the edges, of the width there. */
const [FROM_ENDS, FROM_EDGES] = [0.05, 0.1];

/** Heights and thicknesses at spots of the slab, typed in a grid. */
export function ReadingsPanel({ view }: { view: StockView }) {
  const { slab, flitch } = view.place.value ?? {};
  const spots = Object.values(slab?.spots ?? {});
  const [under, setUnder] = useState(() => spots.some(({ bottom }) => bottom !== null));
  if (!slab) return null;
  const set = (spot: Spot, change: Partial<Spot>) =>
    view.editSlab(slab.id, 'Type a reading', (draft) => {
      draft.spots[spot.id] = { ...spot, ...change };
    });

  return (
    <div class="stack">
      {spots.length > 0 && <ThumbEntry key={slab.id} view={view} slab={slab} underside={under} />}
      <QuestionsCard view={view} slab={slab} />
      {flitch && <SlabAnswer key={`answer ${slab.id}`} view={view} flitch={flitch} slab={slab} />}
      <p class="small soft">
        Slab on two bearers, each 0.22 of its length from an end. At every spot measure from the rails down to the wood,
        and the thickness with callipers along the edges.
      </p>
      <AddGrid view={view} slab={slab} />
      <TickField label="I read the underside, too" value={under} onChange={setUnder} />
      {under && (
        <TickField
          label="Slab turned over, rails set anew for it"
          value={slab.heights === 'apart'}
          onChange={(apart) =>
            view.editSlab(slab.id, apart ? 'Faces read each by itself' : 'Faces read over one plane', (draft) => {
              draft.heights = apart ? 'apart' : 'together';
            })
          }
        />
      )}
      {spots.length === 0 && <p>No readings yet: without them, nobody knows how thick it will finish.</p>}
      <WarpFields view={view} slab={slab} />
      <StringCard view={view} slab={slab} />
      {(spots.length > 0 || slab.faces.top.outline) && <SheetPrint view={view} />}
      {spots.length > 0 && (
        <p class="small soft">
          In the table heights stand as they are reckoned with: up is more, so a drop is less than nothing. Any two of
          top, underside and thickness give the third.
        </p>
      )}
      {spots.length > 0 && (
        <div class="scroll-x">
          <table class="points">
            <caption class="hidden-text">Readings of {slab.name}</caption>
            <thead>
              <tr>
                <th scope="col">Along</th>
                <th scope="col">Across</th>
                <th scope="col">Top</th>
                {under && <th scope="col">Underside</th>}
                <th scope="col">Thickness</th>
                <th>
                  <span class="hidden-text">Take out</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {spots.map((spot, i) => {
                const says = `spot ${i + 1}`;
                return (
                  <tr key={spot.id}>
                    <td>
                      <LengthField
                        inCell
                        sign="any"
                        label={`Along of ${says}`}
                        value={spot.at[0]}
                        onChange={(x) => set(spot, { at: [x, spot.at[1]] })}
                      />
                    </td>
                    <td>
                      <LengthField
                        inCell
                        sign="any"
                        label={`Across of ${says}`}
                        value={spot.at[1]}
                        onChange={(y) => set(spot, { at: [spot.at[0], y] })}
                      />
                    </td>
                    <td>
                      <LengthField<true>
                        inCell
                        optional
                        sign="any"
                        finest={32}
                        label={`Top height at ${says}`}
                        value={spot.top}
                        onChange={(top) => set(spot, { top })}
                      />
                    </td>
                    {under && (
                      <td>
                        <LengthField<true>
                          inCell
                          optional
                          sign="any"
                          finest={32}
                          label={`Underside height at ${says}`}
                          value={spot.bottom}
                          onChange={(bottom) => set(spot, { bottom })}
                        />
                      </td>
                    )}
                    <td>
                      <LengthField<true>
                        inCell
                        optional
                        finest={32}
                        label={`Thickness at ${says}`}
                        value={spot.thickness}
                        onChange={(thickness) => set(spot, { thickness })}
                      />
                    </td>
                    <td>
                      <button
                        type="button"
                        class="button quiet"
                        aria-label={`Take out ${says}`}
                        onClick={() =>
                          view.editSlab(slab.id, 'Take out a reading', (draft) => {
                            delete draft.spots[spot.id];
                          })
                        }
                      >
                        ✕
                      </button>
                    </td>
                  </tr>
                );
              })}
            </tbody>
          </table>
        </div>
      )}
    </div>
  );
}

/** Adds spots in regular rows over the slab, or one alone. */
function AddGrid({ view, slab }: { view: StockView; slab: Slab }) {
  const [rows, setRows] = useState(3);
  const [columns, setColumns] = useState(5);
  const [length, setLength] = useState<number | null>(null);
  const [width, setWidth] = useState<number | null>(null);
  const outline = slab.faces.top.outline;
  const sized = outline !== null || (length !== null && width !== null);

  function add() {
    const box = outline ? bounds(outline.outer) : { minX: 0, minY: 0, maxX: length ?? 0, maxY: width ?? 0 };
    const share = (i: number, n: number, inset: number) => (n === 1 ? 0.5 : inset + ((1 - 2 * inset) * i) / (n - 1));
    view.editSlab(slab.id, `Add a grid of ${rows} by ${columns}`, (draft) => {
      for (let c = 0; c < columns; c++) {
        const x = Math.round(box.minX + share(c, columns, FROM_ENDS) * (box.maxX - box.minX));
        // Across the wood as it is there: a live edge wanders.
        const edges = outline ? crossingsAtX(outline.outer, x) : [box.minY, box.maxY];
        const [from, to] = [Math.min(...edges), Math.max(...edges)];
        for (let r = 0; r < rows; r++) {
          const y = Math.round(from + share(r, rows, FROM_EDGES) * (to - from));
          if (outline && !regionContains(outline, [x, y])) continue;
          const id = newId();
          draft.spots[id] = { id, at: [x, y], top: null, bottom: null, thickness: null, sigma: READING_SIGMA };
        }
      }
    });
  }

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
          <button type="button" class="button" disabled={!sized} onClick={add}>
            Add {rows} × {columns} spots
          </button>
          <button
            type="button"
            class="button"
            onClick={() => {
              const id = newId();
              view.editSlab(slab.id, 'Add a spot', (draft) => {
                draft.spots[id] = { id, at: [0, 0], top: null, bottom: null, thickness: null, sigma: READING_SIGMA };
              });
            }}
          >
            Add one spot
          </button>
        </div>
      </div>
    </details>
  );
}
