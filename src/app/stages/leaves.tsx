import type { BoardReport } from '../../plan';
import { boardReports } from '../../plan';
import { formatLength } from '../../units';
import { Cautions } from '../parts/cautions';
import { useUnits } from '../parts/job-context';
import { go, jobAddress } from '../route';
import { BoardDrawing } from './leaves/board-drawing';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** How many leaves each board gives, where the cuts lie, and whether that is enough for the doors. */
export function Leaves({ store }: StageProps) {
  const job = store.job.value;
  const reports = boardReports(job);
  if (reports.length === 0) {
    return (
      <StageLayout
        title="Leaves"
        drawing={
          <div class="empty-sheet">
            <p>No board to saw leaves from. Doors veneered with your own leaves need one.</p>
            <button type="button" class="button main" onClick={() => go(jobAddress(store.id, 'stock'))}>
              Add a board under Stock
            </button>
          </div>
        }
        facts={<p>Leaf counts and cuts come with a board.</p>}
      />
    );
  }
  return (
    <StageLayout
      title="Leaves"
      drawing={
        <div class="drawings">
          {reports.map((report) => {
            const board = job.boards[report.id];
            return board && <BoardDrawing key={report.id} board={board} report={report} shop={job.shop} />;
          })}
        </div>
      }
      facts={
        <>
          {reports.map((report) => (
            <BoardFacts key={report.id} report={report} />
          ))}
          <Cautions of={['resaw', 'dust', 'vacuum press']} />
        </>
      }
    />
  );
}

function BoardFacts({ report }: { report: BoardReport }) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 1 });
  return (
    <section class="card stack" aria-label={report.name}>
      <h2>{report.name}</h2>
      <p>
        <strong>
          {report.leaves} {report.leaves === 1 ? 'leaf' : 'leaves'}
        </strong>
        , {say(report.remnant)} left of the board.
      </p>
      {report.wanted > 0 && (
        <p>
          Enough for {report.given} of the {report.wanted} panel faces wanted.
        </p>
      )}
      {report.warning && <p class="note miss">{report.warning}</p>}
      <table class="figures">
        <thead>
          <tr>
            <th scope="col">cut</th>
            <th scope="col">begins at, from the outer face</th>
          </tr>
        </thead>
        <tbody>
          {report.cuts.map((at, i) => (
            <tr key={at}>
              <th scope="row">{i + 1}</th>
              <td>{say(at)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
