import { useNarrow } from '../../parts/use-narrow';
import { compareRows, type Side } from './compare-rows';
import { isEmpty, Misses } from './misses';
import { PlanPicture } from './plan-picture';
import { differenceOf, differenceWords } from './plan-words';
import type { FaceLooks } from './wood';

/** Two plans side by side: their finished tops as pictures without a line on them, and figure beside figure. */
export function Compare({ one, other, looks }: { one: Side; other: Side; looks: FaceLooks }) {
  const narrow = useNarrow();
  return (
    <section class="drawings compare" aria-label={`${one.name} beside ${other.name}`}>
      {[one, other].map(({ plan, name }) => (
        <figure key={name} class="section-drawing">
          <figcaption>{name}</figcaption>
          {isEmpty(plan) ? (
            <p class="on-paper">No top is had.</p>
          ) : (
            <PlanPicture plan={plan} looks={looks} width={narrow ? 340 : 600} />
          )}
        </figure>
      ))}
      <table class="on-paper figures">
        <thead>
          <tr>
            <td />
            <th scope="col">{one.name}</th>
            <th scope="col">{other.name}</th>
          </tr>
        </thead>
        <tbody>
          {compareRows(one, other).map(({ name, values, better }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {values.map((value, i) => (
                <td key={[one, other][i]?.name}>
                  {value}
                  {better === i && <strong> better</strong>}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="on-paper">
        {other.name} against {one.name}: {differenceWords(differenceOf(other.plan, one.plan, other.job, one.job))}
      </p>
      <Misses plan={other.plan} />
    </section>
  );
}
