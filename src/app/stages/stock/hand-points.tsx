import type { Photo } from '../../../job';
import { LengthField, NumberField } from '../../parts/fields';
import { readPhoto } from './read-photos';
import type { HandPoint, StockView } from './view';

/** Fewest points that tell a plane's perspective. */
const LEAST = 4;

/** Places points by hand on a photo without markers: tap them on the photo, type where each lies on the slab. */
export function HandPoints({ view, photo, points }: { view: StockView; photo: Photo; points: readonly HandPoint[] }) {
  const whole = points.flatMap(({ px, mm: [x, y] }) => (x === null || y === null ? [] : [{ px, mm: [x, y] as const }]));
  const set = (place: number, change: Partial<HandPoint>) => {
    view.byHand.value = points.map((point, i) => (i === place ? { ...point, ...change } : point));
  };
  const slab = view.place.value?.slab;

  return (
    <div class="stack">
      <h2>Points by hand</h2>
      <p class="small soft">
        Tap at least four spots that you can measure, such as chalk crosses near the corners, and type where each lies:
        along the slab, and across it, from any one corner.
      </p>
      <div class="scroll-x">
        <table class="points">
          <caption class="hidden-text">Points placed by hand</caption>
          <thead>
            <tr>
              <th scope="col">Point</th>
              <th scope="col">Photo right</th>
              <th scope="col">Photo down</th>
              <th scope="col">Along</th>
              <th scope="col">Across</th>
              <th>
                <span class="hidden-text">Take out</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {points.map(({ px, mm }, i) => (
              <tr key={`hand#${i}`} class={view.handle.value === `hand#${i}` ? 'chosen' : ''}>
                <td>
                  <button
                    type="button"
                    class="button quiet"
                    aria-label={`Choose point ${i + 1}`}
                    aria-pressed={view.handle.value === `hand#${i}`}
                    onClick={() => {
                      view.handle.value = `hand#${i}`;
                    }}
                  >
                    {i + 1}
                  </button>
                </td>
                <td>
                  <NumberField
                    inCell
                    sign="any"
                    label={`Point ${i + 1}, pixels from the left`}
                    value={px[0]}
                    onChange={(u) => set(i, { px: [u, px[1]] })}
                  />
                </td>
                <td>
                  <NumberField
                    inCell
                    sign="any"
                    label={`Point ${i + 1}, pixels from above`}
                    value={px[1]}
                    onChange={(v) => set(i, { px: [px[0], v] })}
                  />
                </td>
                <td>
                  <LengthField<true>
                    inCell
                    optional
                    sign="any"
                    label={`Point ${i + 1}, along`}
                    value={mm[0]}
                    onChange={(x) => set(i, { mm: [x, mm[1]] })}
                  />
                </td>
                <td>
                  <LengthField<true>
                    inCell
                    optional
                    sign="any"
                    label={`Point ${i + 1}, across`}
                    value={mm[1]}
                    onChange={(y) => set(i, { mm: [mm[0], y] })}
                  />
                </td>
                <td>
                  <button
                    type="button"
                    class="button quiet"
                    aria-label={`Take out point ${i + 1}`}
                    onClick={() => {
                      view.byHand.value = points.filter((_, j) => j !== i);
                    }}
                  >
                    ✕
                  </button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <div class="row">
        <button
          type="button"
          class="button"
          onClick={() => {
            view.byHand.value = [...points, { px: [photo.width / 2, photo.height / 2], mm: [null, null] }];
            view.handle.value = `hand#${points.length}`;
          }}
        >
          Add a point
        </button>
        <button
          type="button"
          class="button main"
          disabled={whole.length < LEAST || !slab}
          onClick={async () => {
            if (!slab) return;
            view.byHand.value = null;
            const target = { slabId: slab.id, face: view.faceName.value, photoId: photo.id };
            const read = await readPhoto(view, target, undefined, {
              kind: 'points',
              points: whole.map(({ px, mm }) => ({ px: [...px], mm: [...mm] })),
            });
            // What was typed is not lost when the photo could not be read with it.
            if (!read) view.byHand.value = points;
          }}
        >
          Measure by these points
        </button>
        <button
          type="button"
          class="button"
          onClick={() => {
            view.byHand.value = null;
          }}
        >
          Leave
        </button>
      </div>
      {whole.length < LEAST && (
        <p class="small soft" role="status">
          {whole.length} of {LEAST} points are complete.
        </p>
      )}
    </div>
  );
}
