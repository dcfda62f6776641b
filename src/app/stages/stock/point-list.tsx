import { useEffect, useState } from 'preact/hooks';
import { LengthField } from '../../parts/fields';
import { handleOf, moved, type Path, placeOf, withOneAfter, without } from './path';
import type { StockView } from './view';

/** Points shown at a time: a traced outline has hundreds. */
const PAGE = 8;

/** The points of a path as a list: what the canvas does with a finger, this does with keys. */
export function PointList({ view, path }: { view: StockView; path: Path }) {
  const chosen = placeOf(path, view.handle.value);
  const [page, setPage] = useState(0);
  const pages = Math.max(1, Math.ceil(path.points.length / PAGE));
  const from = Math.min(page, pages - 1) * PAGE;

  // The list follows the point that is chosen on the canvas.
  useEffect(() => {
    if (chosen >= 0) setPage(Math.floor(chosen / PAGE));
  }, [chosen]);

  const change = (place: number, x: number, y: number) =>
    path.set(`Move a point of the ${path.name}`, moved(path.points, place, [x, y]));

  return (
    <div class="stack">
      <div class="scroll-x">
        <table class="points">
          <caption class="hidden-text">Points of the {path.name}</caption>
          <thead>
            <tr>
              <th scope="col">Point</th>
              <th scope="col">Along</th>
              <th scope="col">Across</th>
              {path.wide && <th scope="col">Width</th>}
            </tr>
          </thead>
          <tbody>
            {path.points.slice(from, from + PAGE).map(([x, y, width = 0], i) => {
              const place = from + i;
              const says = `point ${place + 1}`;
              return (
                <tr key={place} class={place === chosen ? 'chosen' : ''}>
                  <td>
                    <button
                      type="button"
                      class="button quiet"
                      aria-pressed={place === chosen}
                      aria-label={`Choose ${says}`}
                      onClick={() => {
                        view.handle.value = handleOf(path, place);
                      }}
                    >
                      {place + 1}
                    </button>
                  </td>
                  <td>
                    <LengthField
                      inCell
                      label={`Along of ${says}`}
                      sign="any"
                      value={x}
                      onChange={(next) => change(place, next, y)}
                    />
                  </td>
                  <td>
                    <LengthField
                      inCell
                      label={`Across of ${says}`}
                      sign="any"
                      value={y}
                      onChange={(next) => change(place, x, next)}
                    />
                  </td>
                  {path.wide && (
                    <td>
                      <LengthField
                        inCell
                        label={`Width at ${says}`}
                        sign="zero"
                        finest={32}
                        value={width}
                        onChange={(next) =>
                          path.set(
                            `Width of the ${path.name}`,
                            path.points.map((p, j) => (j === place ? [p[0], p[1], next] : p)),
                          )
                        }
                      />
                    </td>
                  )}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      {pages > 1 && (
        <div class="row">
          <button
            type="button"
            class="button"
            disabled={from === 0}
            onClick={() => setPage(Math.min(page, pages - 1) - 1)}
          >
            Earlier
          </button>
          <span class="number small soft">
            {from + 1}–{Math.min(from + PAGE, path.points.length)} of {path.points.length}
          </span>
          <button type="button" class="button" disabled={page >= pages - 1} onClick={() => setPage(page + 1)}>
            Later
          </button>
        </div>
      )}
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={chosen < 0}
          onClick={() => {
            path.set(`Add a point to the ${path.name}`, withOneAfter(path.points, chosen, path.closed));
            view.handle.value = handleOf(path, chosen + 1);
          }}
        >
          Add a point after it
        </button>
        <button
          type="button"
          class="button cut"
          disabled={chosen < 0 || path.points.length <= path.least}
          onClick={() => {
            path.set(`Take out a point of the ${path.name}`, without(path.points, chosen));
            view.handle.value = handleOf(path, Math.max(0, chosen - 1));
          }}
        >
          Take it out
        </button>
      </div>
    </div>
  );
}
