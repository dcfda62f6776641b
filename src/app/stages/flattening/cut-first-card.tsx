import { type BlankReport, cutFirstRows, warpWords } from '../../../plan';
import { useUnits } from '../../parts/job-context';

/** What cutting to rough size before flattening gains. */
export function CutFirstCard({ cutFirst }: { cutFirst: NonNullable<BlankReport['cutFirst']> }) {
  const units = useUnits();
  return (
    <section class="card stack" aria-label="Cut before flattening">
      <h2>Cut before flattening</h2>
      <table class="figures">
        <thead>
          <tr>
            <th scope="col">the slab</th>
            <th scope="col">can finish at</th>
            <th scope="col">gains</th>
          </tr>
        </thead>
        <tbody>
          {cutFirstRows(cutFirst, units).map(({ way, finished, gain }) => (
            <tr key={way}>
              <th scope="row">{way}</th>
              <td>{finished}</td>
              <td>{gain}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="small soft">Rough-cut, the blank has {warpWords(cutFirst, units)}.</p>
    </section>
  );
}
