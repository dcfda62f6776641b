import type { BlankFlattening } from '../../../flattening';
import { type BlankReport, helpWords, ruledWords, tooLowWords } from '../../../plan';
import { formatLength, formatPlusMinus, formatShare } from '../../../units';
import { useUnits } from '../../parts/job-context';
import type { PassShown } from './contact-items';
import { CutFirstCard } from './cut-first-card';
import { PassTable } from './pass-table';

/** What the items of a thickness budget are called in the shop. */
const ITEMS: Readonly<Record<BlankFlattening['budget'][number]['item'], string>> = {
  rough: 'between the enclosing planes',
  'lost under': 'lost on the underside',
  'lost over': 'lost on the upper face',
  second: 'second flattening',
  level: 'levelling after glue-up',
  sanding: 'sanding',
  drying: 'drying',
  finished: 'finished',
};

/** Thickness, budget, passes and shims of one blank. */
export function BlankFacts({
  blank,
  flat,
  shown,
  onShow,
}: {
  blank: BlankReport;
  flat: BlankFlattening;
  shown: PassShown | null;
  onShow(shown: PassShown | null): void;
}) {
  const units = useUnits();
  const say = (mm: number) => formatLength(mm, units, { decimals: 1 });
  const finished = flat.budget.find(({ item }) => item === 'finished')?.mm ?? 0;
  const rough = flat.budget.find(({ item }) => item === 'rough')?.mm ?? 1;
  return (
    <>
      <section class="card stack" aria-label="Thickness">
        <p>
          Thickest flat board: <strong>{say(flat.thickest)}</strong>{' '}
          {formatPlusMinus(2 * flat.sigma, units, { decimals: 1 })}
        </p>
        <p>
          Finishes at <strong>{say(finished)}</strong>; {say(blank.wanted)} wanted.
        </p>
        {flat.short > 0.05 && (
          <p class="note miss">
            {say(flat.short)} too thin. {blank.help && helpWords(blank.help, units).join(' ')}
          </p>
        )}
        {flat.tooLow > 0 && <p class="note miss">{tooLowWords(flat.tooLow, units)}</p>}
        {blank.ruledBy && <p>{ruledWords(blank.ruledBy, units)}</p>}
        {flat.beyond > 0.05 && (
          <p class="note">
            {formatShare(flat.beyond)} of this blank lies outside the readings: there it is a guess, and the ± is wider
            for it.
          </p>
        )}
      </section>
      <section class="card" aria-label="Thickness budget">
        <h2>Thickness budget</h2>
        <div class="budget-bar" aria-hidden="true">
          {flat.budget
            .slice(1)
            .map(({ item, mm }) =>
              mm > 0 ? (
                <span key={item} class={`budget-${item.replace(' ', '-')}`} style={{ flexGrow: mm / rough }} />
              ) : null,
            )}
        </div>
        <table class="figures">
          <tbody>
            {flat.budget.slice(1).map(({ item, mm }) => (
              <tr key={item} class={item === 'finished' ? 'sum' : ''}>
                <th scope="row">
                  <span class={`swatch budget-${item.replace(' ', '-')}`} aria-hidden="true" /> {ITEMS[item]}
                </th>
                <td>{say(mm)}</td>
              </tr>
            ))}
            <tr class="sum">
              <th scope="row">{ITEMS.rough}</th>
              <td>{say(rough)}</td>
            </tr>
          </tbody>
        </table>
      </section>
      {blank.cutFirst && <CutFirstCard cutFirst={blank.cutFirst} />}
      {flat.faces.map((work) => (
        <PassTable key={work.face} work={work} shown={shown} onShow={onShow} />
      ))}
      <section class="card" aria-label="Shims">
        <h2>Shims under the corners</h2>
        <table class="figures">
          <tbody>
            {flat.shims.map(({ at, height }, i) => (
              <tr key={at.join()}>
                <th scope="row">
                  S{i + 1}
                  <span class="soft small">
                    {' '}
                    {say(at[0])} along, {say(at[1])} in
                  </span>
                </th>
                <td>{say(height)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </>
  );
}
