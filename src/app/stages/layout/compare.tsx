import type { Job, Plan } from '../../../job';
import { formatShare } from '../../../units';
import { useNarrow } from '../../parts/use-narrow';
import { isEmpty, Misses } from './misses';
import { PlanPicture } from './plan-picture';
import { costOf, differenceOf, differenceWords, seamsOf, spareOf } from './plan-words';
import type { FaceLooks } from './wood';

/** A plan and the job that it was made for: with a what-if the two differ. */
export interface Side {
  readonly plan: Plan;
  readonly job: Job;
  readonly name: string;
}

/** Two plans side by side: their finished tops as pictures without a line on them, and figure beside figure. */
export function Compare({ one, other, looks }: { one: Side; other: Side; looks: FaceLooks }) {
  const narrow = useNarrow();
  const rows = [
    ['seam', seamsOf(one.plan), seamsOf(other.plan)],
    ['thickness to spare', spareOf(one.plan, one.job), spareOf(other.plan, other.job)],
    ['waste', formatShare(one.plan.waste), formatShare(other.plan.waste)],
    ['slabs', costOf(one.plan, one.job), costOf(other.plan, other.job)],
  ] as const;
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
          {rows.map(([name, a, b]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{a}</td>
              <td>{b}</td>
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
