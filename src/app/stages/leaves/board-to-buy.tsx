import type { Job } from '../../../job';
import { boardsForDoors } from '../../../plan';
import { formatLength, formatThin } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { ScrollBox } from '../../parts/scroll-box';

/** Which boards would do for all doors of the job, as one asks for them at the yard. */
export function BoardToBuy({ job }: { job: Job }) {
  const units = useUnits();
  const found = boardsForDoors(job);
  if (found.length === 0) return null;
  const size = (mm: number) => formatLength(mm, units, { decimals: 0 });
  const spare = job.shop.resaw.spareLeaves ?? 1;
  return (
    <details class="card fold" aria-label="Boards to buy">
      <summary>Which board to buy</summary>
      <p>
        For all doors, with {spare} {spare === 1 ? 'leaf' : 'leaves'} to spare of each board, sawn from one face and
        dressed between cuts. The widest leaves, with the fewest joints, first.
      </p>
      <ScrollBox says="Boards that would do">
        <table class="figures">
          <thead>
            <tr>
              <th scope="col">boards</th>
              <th scope="col">length</th>
              <th scope="col">width</th>
              <th scope="col">thickness once flat</th>
              <th scope="col">of the trade</th>
              <th scope="col">leaves of each</th>
              <th scope="col">board feet</th>
            </tr>
          </thead>
          <tbody>
            {found.map(({ boards, length, width, thickness, trade, leaves, boardFeet }) => (
              <tr key={`${boards} ${width}`}>
                <th scope="row">{boards}</th>
                <td>{size(length)}</td>
                <td>{size(width)}</td>
                <td>{formatThin(thickness, units)}</td>
                <td>{trade?.name ?? '–'}</td>
                <td>{leaves}</td>
                <td>{boardFeet.toFixed(1)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <p class="small soft">
        Sizes are the least that do, clear of defects. Flattening a cupped or bowed board takes more: measure it, add it
        under Stock and look again.
      </p>
    </details>
  );
}
