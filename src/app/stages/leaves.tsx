import { boardReports } from '../../plan';
import { Cautions } from '../parts/cautions';
import { go, jobAddress } from '../route';
import { YieldFacts } from './leaves/yield-facts';
import { YieldSection } from './leaves/yield-section';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** How many leaves each board gives, where the cuts lie, and whether that is enough for the doors. */
export function Leaves({ store }: StageProps) {
  const job = store.job.value;
  const reports = boardReports(job);
  return (
    <StageLayout
      title="Leaves"
      drawing={
        reports.length === 0 ? (
          <div class="empty-sheet">
            <p>No board to saw leaves from. Doors veneered with your own leaves need one.</p>
            <button type="button" class="button main" onClick={() => go(jobAddress(store.id, 'stock'))}>
              Add a board under Stock
            </button>
          </div>
        ) : (
          <div class="drawings">
            {reports.map((report) => {
              const board = job.boards[report.id];
              return board && <YieldSection key={report.id} board={board} report={report} />;
            })}
          </div>
        )
      }
      facts={
        <>
          {reports.length === 0 && <p>Leaf counts and cuts come with a board.</p>}
          <YieldFacts store={store} reports={reports} />
          <Cautions of={['resaw', 'dust', 'vacuum press']} />
        </>
      }
    />
  );
}
