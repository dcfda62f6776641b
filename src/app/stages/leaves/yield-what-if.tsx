import { useState } from 'preact/hooks';
import type { Job } from '../../../job';
import { type BoardReport, boardReports } from '../../../plan';
import { formatThin } from '../../../units';
import { useUnits } from '../../parts/job-context';
import { TriedRow } from '../../parts/tried-row';
import type { JobStore } from '../../store';
import { reportsOf } from './yield-reports';

/** What blades and leaves there are, mm: kerfs of 0.5 to 3.2, leaves of 0.5 to 6 (practice). */
const KERF = { min: 0.5, max: 3.2, step: 0.01 };
const LEAF = { min: 0.5, max: 6, step: 0.01 };

interface Tried {
  readonly kerf: number;
  readonly leaf: number;
}

const tried = (job: Job, { kerf, leaf }: Tried): Job => ({
  ...job,
  shop: {
    ...job.shop,
    resaw: { ...job.shop.resaw, kerf, leaf: { ...job.shop.resaw.leaf, thickness: leaf } },
  },
});

/** What a thinner blade or leaf would bring, tried without changing the job until it is taken over. */
export function YieldWhatIf({ store }: { store: JobStore }) {
  const job = store.job.value;
  const units = useUnits();
  const { resaw } = job.shop;
  const now: Tried = { kerf: resaw.kerf, leaf: resaw.leaf.thickness };
  const [given, setGiven] = useState<Partial<Tried>>({});
  const trial = { ...now, ...given };
  const changed = trial.kerf !== now.kerf || trial.leaf !== now.leaf;
  const before = reportsOf(job);
  const after = changed ? boardReports(tried(job, trial)) : before;
  const slide = (name: string, key: keyof Tried, { min, max, step }: typeof KERF) => (
    <label class="slide">
      <span>
        {name} <strong>{formatThin(trial[key], units)}</strong>
        {trial[key] !== now[key] && <span class="soft"> now {formatThin(now[key], units)}</span>}
      </span>
      <input
        type="range"
        min={Math.min(min, now[key])}
        max={Math.max(max, now[key])}
        step={step}
        value={trial[key]}
        aria-valuetext={formatThin(trial[key], units)}
        onInput={(event) => setGiven({ ...given, [key]: Math.round(event.currentTarget.valueAsNumber * 1000) / 1000 })}
      />
    </label>
  );
  /** The next figure down at which some board gives a leaf more. */
  const nextAt = (key: keyof Tried): number | null => {
    const over = (report: BoardReport) => (key === 'leaf' ? job.shop.resaw.leaf.sanding + report.ready.wedge.added : 0);
    const found = after.map((report) => {
      const at = report.next?.[key] ?? null;
      return at === null ? 0 : Math.floor((at - over(report)) * 100 + 1e-6) / 100;
    });
    const next = Math.max(0, ...found);
    return next >= (key === 'leaf' ? LEAF.min : KERF.min) ? next : null;
  };
  const jump = (name: string, key: keyof Tried) => {
    const next = nextAt(key);
    return (
      next !== null && (
        <button type="button" class="button" onClick={() => setGiven({ ...given, [key]: next })}>
          {name} of {formatThin(next, units)}: one more
        </button>
      )
    );
  };
  return (
    <section class="card stack" aria-label="Try another blade or leaf">
      <h2>Try another blade or leaf</h2>
      {slide('Kerf', 'kerf', KERF)}
      {slide('Finished leaf', 'leaf', LEAF)}
      <div class="row wrap">
        {jump('Kerf', 'kerf')}
        {jump('Leaf', 'leaf')}
      </div>
      <table class="figures" aria-live="polite">
        <thead>
          <tr>
            <th scope="col">board</th>
            <th scope="col">leaves now</th>
            <th scope="col">then</th>
            <th scope="col">faces of those wanted</th>
          </tr>
        </thead>
        <tbody>
          {after.map((report, i) => (
            <tr key={report.id}>
              <th scope="row">{report.name}</th>
              <td>{before[i]?.leaves}</td>
              <td>
                <strong>{report.leaves}</strong>
              </td>
              <td>{report.wanted > 0 ? `${report.given} of ${report.wanted}` : '–'}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {changed && (
        <TriedRow
          onTake={() => {
            store.edit('Blade and leaf', ({ shop }) => {
              shop.resaw.kerf = trial.kerf;
              shop.resaw.leaf.thickness = trial.leaf;
            });
            setGiven({});
          }}
          onLeave={() => setGiven({})}
        />
      )}
    </section>
  );
}
