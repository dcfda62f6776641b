import type { Board } from '../../../job';
import { type BoardReport, lookWords, restWords } from '../../../plan';
import { formatLength } from '../../../units';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { YieldBudget, YieldCuts } from './yield-tables';
import { YieldWays } from './yield-ways';

interface YieldCardProps {
  store: JobStore;
  board: Board;
  report: BoardReport;
  /** It was an offcut, and the plan kept now leaves no such piece. */
  gone: boolean;
}

/** What one board yields: leaves, what they are enough for, every way of working, what would help, what to mind. */
export function YieldCard({ store, board, report, gone }: YieldCardProps) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 1 });
  const { ready, leaves, wanted, given, spare, warning, help, mind, look, rest } = report;
  const wide = ready.strips.count > 1 ? `, ${ready.strips.count} strips of ${say(ready.strips.width)}` : '';
  return (
    <section class="card stack" aria-label={report.name}>
      <h2>{report.name}</h2>
      <p>
        <strong>
          {leaves} {leaves === 1 ? 'leaf' : 'leaves'}
        </strong>
        , {say(report.remnant)} left of the board{wide}.
      </p>
      {wanted > 0 && (
        <p>
          Enough for {given} of the {wanted} panel faces wanted
          {given === wanted && spare > 0 ? `, ${spare} ${spare === 1 ? 'leaf' : 'leaves'} to spare` : ''}.
        </p>
      )}
      {gone && (
        <p class="note miss">
          It was {board.offcut?.name}; the plan kept now leaves no such piece. Take it out under Stock, or keep the plan
          that leaves it.
        </p>
      )}
      {warning && <p class="note miss">{warning}</p>}
      <YieldWays
        report={report}
        onWay={(way) =>
          store.edit(`Way of sawing ${report.name}`, (draft) => {
            const own = draft.boards[report.id];
            if (own) own.way = { ...way };
          })
        }
      />
      {help.length > 0 && (
        <details class="fold" open={warning !== null}>
          <summary>What would give more</summary>
          <ul>
            {help.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      )}
      {look && <p>{lookWords(look)}</p>}
      {rest && leaves > 0 && <p>{restWords(rest, units)}</p>}
      <YieldBudget report={report} />
      {report.cuts.length > 0 && <YieldCuts report={report} />}
      {mind.length > 0 && (
        <details class="fold">
          <summary>Mind</summary>
          <ul>
            {mind.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      )}
    </section>
  );
}
