import type { BoardReport } from '../../../plan';
import { isGone, offcutsForLeaves } from '../../../plan';
import { planView } from '../../plan-view';
import type { JobStore } from '../../store';
import { AheadCard } from './ahead-card';
import { BoardOffcuts } from './board-offcuts';
import { BoardToBuy } from './board-to-buy';
import { YieldCard } from './yield-card';
import { YieldWhatIf } from './yield-what-if';
import '../../styles/yield.css';

/** What every board yields before it is sawn, what another blade would bring, offcuts that would serve, and boards to buy. */
export function YieldFacts({ store, reports }: { store: JobStore; reports: readonly BoardReport[] }) {
  const job = store.job.value;
  const computed = planView(store).computed.value;
  const kept = computed && computed.plan.id === job.keptPlan ? computed.report : null;
  const offcuts = kept ? offcutsForLeaves(job, kept) : [];
  return (
    <>
      {reports.map((report) => {
        const board = job.boards[report.id];
        if (!board) return null;
        const gone = kept !== null && isGone(board, offcuts);
        return <YieldCard key={report.id} store={store} board={board} report={report} gone={gone} />;
      })}
      <AheadCard store={store} />
      {reports.length > 0 && <YieldWhatIf store={store} />}
      <BoardOffcuts store={store} offcuts={offcuts} />
      <BoardToBuy job={job} />
    </>
  );
}
