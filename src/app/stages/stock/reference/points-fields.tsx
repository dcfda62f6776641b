import { LengthField, NumberField } from '../../../parts/fields';
import type { StockView } from '../view';
import { placeAmid } from './spot-numbers';
import { pointId } from './spots';

/** Points by hand: tap them on the photo, type where each lies on the slab. */
export function PointsFields({ view }: { view: StockView }) {
  const { points } = view.reference.value;
  const photo = view.photo.value;
  const set = (i: number, name: string, change: (point: (typeof points)[number]) => void) =>
    view.editReference(name, (draft) => {
      const point = draft.points[i];
      if (point) change(point);
    });

  if (!photo) return <p class="small soft">Add the photo first: the points are tapped on it.</p>;
  return (
    <>
      <p class="small soft">
        Tap at least four spots that you can measure, such as chalk crosses near the corners, and type where each lies:
        along the slab, and across it, from any one corner.
      </p>
      {points.length > 0 && (
        <div class="scroll-x">
          <table class="points">
            <caption class="hidden-text">Points placed by hand</caption>
            <thead>
              <tr>
                <th scope="col">Point</th>
                <th scope="col">Along</th>
                <th scope="col">Across</th>
                <th scope="col">Photo right</th>
                <th scope="col">Photo down</th>
                <th>
                  <span class="hidden-text">Take out</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {points.map(({ px, mm }, i) => (
                <tr key={pointId(i)} class={view.handle.value === pointId(i) ? 'chosen' : ''}>
                  <td>
                    <button
                      type="button"
                      class="button quiet"
                      aria-label={`Choose point ${i + 1}`}
                      aria-pressed={view.handle.value === pointId(i)}
                      onClick={() => {
                        view.lookAt.value = 'photo';
                        view.handle.value = pointId(i);
                      }}
                    >
                      {i + 1}
                    </button>
                  </td>
                  {(['along', 'across'] as const).map((way, k) => (
                    <td key={way}>
                      <LengthField<true>
                        inCell
                        optional
                        sign="any"
                        label={`Point ${i + 1}, ${way}`}
                        value={mm[k] ?? null}
                        onChange={(value) =>
                          set(i, 'Measure of a point', (point) => {
                            point.mm[k] = value;
                          })
                        }
                      />
                    </td>
                  ))}
                  {(['from the left', 'from above'] as const).map((way, k) => (
                    <td key={way}>
                      <NumberField
                        inCell
                        sign="any"
                        label={`Point ${i + 1}, pixels ${way}`}
                        value={px[k] as number}
                        onChange={(value) =>
                          set(i, 'Move a spot on the photo', (point) => {
                            point.px = k === 0 ? [value, px[1]] : [px[0], value];
                          })
                        }
                      />
                    </td>
                  ))}
                  <td>
                    <button
                      type="button"
                      class="button quiet"
                      aria-label={`Take out point ${i + 1}`}
                      onClick={() =>
                        view.editReference('Take out a point', (draft) => {
                          draft.points.splice(i, 1);
                        })
                      }
                    >
                      ✕
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <button type="button" class="button" onClick={() => placeAmid(view)}>
        Add a point
      </button>
    </>
  );
}
