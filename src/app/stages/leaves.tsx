import { useState } from 'preact/hooks';
import { Cautions } from '../parts/cautions';
import { Choices } from '../parts/choices';
import { ScrollBox } from '../parts/scroll-box';
import { go, jobAddress } from '../route';
import { AheadDrawing } from './leaves/ahead-drawing';
import { SetDrawing, SetSide, useSet } from './leaves/set-side';
import { YieldFacts } from './leaves/yield-facts';
import { reportsOf } from './leaves/yield-reports';
import { YieldSection } from './leaves/yield-section';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';

const PARTS = [
  ['yield', 'Before the saw'],
  ['set', 'The doors on their leaves'],
] as const;
type Part = (typeof PARTS)[number][0];

/** What a board gives before it is sawn, and after that how the doors lie on its leaves. */
export function Leaves({ store }: StageProps) {
  const job = store.job.value;
  const sawn = Object.values(job.boards).some(({ leaves }) => Object.keys(leaves).length > 0);
  const [chosen, setPart] = useState<Part | null>(null);
  const part = chosen ?? (sawn ? 'set' : 'yield');
  const reports = reportsOf(job);
  const shown = useSet(store);
  const tabs = (
    <Choices tabs label="What of the leaves" options={PARTS} value={part} onChange={(next) => setPart(next)} />
  );
  if (part === 'set') {
    return (
      <StageLayout
        title="Leaves"
        drawing={<SetDrawing store={store} shown={shown} />}
        facts={
          <>
            {tabs}
            <SetSide store={store} shown={shown} />
          </>
        }
      />
    );
  }
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
          <ScrollBox says="Boards before the saw" kind="drawings">
            <AheadDrawing store={store} />
            {reports.map((report) => {
              const board = job.boards[report.id];
              return board && <YieldSection key={report.id} board={board} report={report} />;
            })}
          </ScrollBox>
        )
      }
      facts={
        <>
          {tabs}
          {reports.length === 0 && <p>Leaf counts and cuts come with a board.</p>}
          <YieldFacts store={store} reports={reports} />
          <Cautions of={['resaw', 'dust', 'vacuum press']} />
        </>
      }
    />
  );
}
