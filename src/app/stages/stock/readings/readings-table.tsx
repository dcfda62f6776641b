import type { Slab, Spot } from '../../../../job';
import { LengthField } from '../../../parts/fields';
import type { StockView } from '../view';
import { type Box, turned } from './boxes';
import { moveInTable } from './table-keys';

const COLUMNS: readonly (readonly [Box['which'], heading: string, label: string])[] = [
  ['top', 'Drop', 'Drop at'],
  ['bottom', 'Underside', 'Drop of the underside at'],
  ['thickness', 'Thickness', 'Thickness at'],
];

/** All readings of a slab as a table, walked by the arrow keys. */
export function ReadingsTable({ view, slab, underside }: { view: StockView; slab: Slab; underside: boolean }) {
  const set = ({ id }: Spot, change: Partial<Spot>) =>
    view.editSlab(slab.id, 'Type a reading', (draft) => {
      const spot = draft.spots[id];
      if (!spot) return;
      Object.assign(spot, change);
      delete spot.sure;
    });
  const columns = COLUMNS.filter(([which]) => which !== 'bottom' || underside);
  return (
    <div class="scroll-x">
      <table class="points" onKeyDownCapture={moveInTable}>
        <caption class="hidden-text">Readings of {slab.name}</caption>
        <thead>
          <tr>
            <th scope="col">Spot</th>
            <th scope="col">Along</th>
            <th scope="col">Across</th>
            {columns.map(([which, heading]) => (
              <th key={which} scope="col">
                {heading}
              </th>
            ))}
            <th>
              <span class="hidden-text">Take out</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {Object.values(slab.spots).map((spot, i) => {
            const says = `spot ${i + 1}`;
            const [x, y] = spot.at;
            return (
              <tr key={spot.id}>
                <th scope="row">{i + 1}</th>
                <td>
                  <LengthField
                    inCell
                    sign="any"
                    label={`Along of ${says}`}
                    value={x}
                    onChange={(along) => set(spot, { at: [along, y] })}
                  />
                </td>
                <td>
                  <LengthField
                    inCell
                    sign="any"
                    label={`Across of ${says}`}
                    value={y}
                    onChange={(across) => set(spot, { at: [x, across] })}
                  />
                </td>
                {columns.map(([which, , label]) => (
                  <td key={which}>
                    <LengthField<true>
                      inCell
                      optional
                      sign={which === 'thickness' ? 'positive' : 'any'}
                      finest={32}
                      label={`${label} ${says}`}
                      value={turned(which, spot[which])}
                      onChange={(typed) => set(spot, { [which]: turned(which, typed) })}
                    />
                  </td>
                ))}
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
  );
}
