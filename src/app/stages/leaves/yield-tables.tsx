import type { BudgetLine, ResawCut } from '../../../leaves';
import type { BoardReport } from '../../../plan';
import { formatLength, type UnitSystem } from '../../../units';
import { useUnits } from '../../parts/job-context';

/** Lengths of the saw: to a hundredth, since leaves and kerfs are told so. */
const fine = (mm: number, units: UnitSystem): string =>
  formatLength(mm, units, { decimals: 2, denominator: 32, keepZeros: true });

const ITEMS: Readonly<Record<BudgetLine['item'], (count: number) => string>> = {
  warp: () => 'flattening one face: cup, bow, twist',
  'outer face': () => 'planed off the outer face',
  back: () => 'planed off the back',
  kerfs: (n) => `${n} saw cuts`,
  dressing: (n) => `dressing, ${n} times`,
  sanding: (n) => `sanding of ${n} leaves`,
  drift: (n) => `drift of the blade, ${n} leaves`,
  over: () => 'over in the last leaf',
  rest: (n) => (n === 1 ? 'rest' : `${n} rests`),
  leaves: (n) => `${n} finished leaves`,
};

/** The account of the board's thickness: it adds up. */
export function YieldBudget({ report, thickness }: { report: BoardReport; thickness: number }) {
  const units = useUnits();
  return (
    <details class="fold">
      <summary>Where the thickness goes</summary>
      <table class="figures">
        <tbody>
          {report.budget.map(({ item, mm, count }) => (
            <tr key={item}>
              <th scope="row">{ITEMS[item](count)}</th>
              <td>{fine(mm, units)}</td>
            </tr>
          ))}
          <tr class="sum">
            <th scope="row">the board</th>
            <td>{fine(thickness, units)}</td>
          </tr>
        </tbody>
      </table>
    </details>
  );
}

const FACES: Readonly<Record<ResawCut['face'], string>> = {
  outer: 'outer face',
  back: 'back',
  fresh: 'fresh face',
};

const frees = ({ leaf, of, face }: ResawCut, turned: boolean): string => {
  if (leaf === null) return 'two halves';
  if (!turned) return `leaf ${leaf}`;
  return `leaf ${leaf}, ${of === 'board' ? FACES[face] : of}`;
};

/** Every cut in the order of work: where it begins, and where the fence stands. */
export function YieldCuts({ report }: { report: BoardReport }) {
  const units = useUnits();
  const { sawn } = report;
  const turned = sawn.way.start !== 'one face';
  const dresses = sawn.cuts.some(({ dressed }) => dressed > 0);
  return (
    <details class="fold">
      <summary>Cuts and fence, in order</summary>
      <div class="scroll-x">
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
                <td>{frees(cut, turned)}</td>
                {dresses && <td>{cut.dressed > 0 ? fine(cut.dressed, units) : '–'}</td>}
                <td>{fine(cut.at, units)}</td>
                <td>{fine(cut.stays, units)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="small soft">
        With the leaf against the fence it stands at {fine(report.ready.saw.leaf, units)} for every cut
        {sawn.way.carrier ? '; with the board against it, add the carrier to these figures' : ''}.
      </p>
    </details>
  );
}
