import { type BoardReport, budgetRows, freesWords, sawLength } from '../../../plan';
import { useUnits } from '../../parts/job-context';
import { ScrollBox } from '../../parts/scroll-box';

/** The account of the board's thickness: it adds up. */
export function YieldBudget({ report }: { report: BoardReport }) {
  const units = useUnits();
  const rows = budgetRows(report.budget, units);
  return (
    <details class="fold">
      <summary>Where the thickness goes</summary>
      <table class="figures">
        <tbody>
          {rows.map(([what, mm], i) => (
            <tr key={what} class={i === rows.length - 1 ? 'sum' : undefined}>
              <th scope="row">{what}</th>
              <td>{mm}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

/** Every cut in the order of work: where it begins, and where the fence stands. */
export function YieldCuts({ report }: { report: BoardReport }) {
  const units = useUnits();
  const { sawn, ready } = report;
  const dresses = sawn.cuts.some(({ dressed }) => dressed > 0);
  return (
    <details class="fold">
      <summary>Cuts and fence, in order</summary>
      <ScrollBox says={`${report.name}: cuts and fence`}>
        <table class="figures">
          <thead>
            <tr>
              <th scope="col">cut</th>
              <th scope="col">frees</th>
              {dresses && <th scope="col">dress first</th>}
              <th scope="col">begins at, from the outer face</th>
              <th scope="col">fence, board against it</th>
            </tr>
          </thead>
          <tbody>
            {sawn.cuts.map((cut) => (
              <tr key={cut.number}>
                <th scope="row">{cut.number}</th>
                <td>{freesWords(cut, sawn.way)}</td>
                {dresses && <td>{cut.dressed > 0 ? sawLength(cut.dressed, units) : '–'}</td>}
                <td>{sawLength(cut.at, units)}</td>
                <td>{sawLength(cut.stays, units)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <p class="small soft">
        With the leaf against the fence it stands at {sawLength(ready.saw.leaf, units)} for every leaf
        {sawn.way.carrier ? '; with the board against it, add the carrier to these figures' : ''}.
      </p>
    </details>
  );
}
