import { mirrored, type SlabMeasures } from '../../../cutmap';
import { formatLength, formatPlusMinus } from '../../../units';
import { TickField } from '../../parts/fields';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { marksView } from './marked-slab';

/** Every point that is to be found on the slab, as the papers have it. */
export function PointsCard({ store, measures }: { store: JobStore; measures: SlabMeasures }) {
  const units = useUnits();
  const view = marksView(store);
  const turned = view.turned.value;
  const shown = turned ? mirrored(measures) : measures;
  const at = (mm: number) => formatLength(mm, units, { decimals: 1, denominator: 32, keepZeros: true });
  const off = (mm: number) => formatPlusMinus(mm, units, { decimals: 1, denominator: 32, keepZeros: true });
  if (shown.points.length === 0) return null;
  return (
    <section class="card stack" aria-label="Points to find">
      <h2>Points to find</h2>
      <TickField
        label="From the other face, turned over about its length"
        value={turned}
        onChange={(next) => {
          view.turned.value = next;
        }}
      />
      <div class="scroll-x">
        <table>
          <thead>
            <tr>
              <th scope="col">point</th>
              <th scope="col">from A</th>
              <th scope="col">from B</th>
              <th scope="col">along</th>
              <th scope="col">in</th>
            </tr>
          </thead>
          <tbody>
            {shown.points.map(({ label, what, tapes, plusMinus, offsets, flags }) => (
              <tr key={label}>
                <th scope="row" title={what}>
                  {label}
                  {flags.length > 0 && ' !'}
                </th>
                <td>
                  <strong>{at(tapes.fromA)}</strong> <span class="soft small">{off(plusMinus.fromA)}</span>
                </td>
                <td>
                  <strong>{at(tapes.fromB)}</strong> <span class="soft small">{off(plusMinus.fromB)}</span>
                </td>
                <td>{at(offsets.along)}</td>
                <td>
                  {offsets.inward >= 0 ? '→' : '←'} {at(Math.abs(offsets.inward))}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {shown.points.some(({ flags }) => flags.length > 0) && (
        <ul class="small">
          {shown.points
            .filter(({ flags }) => flags.length > 0)
            .map(({ label, flags }) => (
              <li key={label}>
                ! {label}: {flags.join('; ')}
              </li>
            ))}
        </ul>
      )}
    </section>
  );
}
