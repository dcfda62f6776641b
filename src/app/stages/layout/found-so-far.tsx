import type { Plan } from '../../../job';
import { useStore } from '../../parts/job-context';
import { useNarrow } from '../../parts/use-narrow';
import type { PlanView } from '../../plan-view';
import { PlanCard } from './plan-card';
import { PlanPicture } from './plan-picture';
import type { FaceLooks } from './wood';

/** The best plan that work under way has found so far, as a card; a tap stops the work and takes it. Its room is kept from the start. */
export function FoundCard({ view, plan, looks }: { view: PlanView; plan: Plan | undefined; looks: FaceLooks }) {
  const job = useStore().job.value;
  if (!plan)
    return (
      <section class="to-come" aria-label="Found so far">
        <p class="small soft">The first plan that is found stands here, the better ones after it in its place.</p>
      </section>
    );
  return (
    <section class="stack to-come" aria-label="Found so far">
      <p class="small soft">Found so far. Stop keeps it; a tap on it does too.</p>
      <PlanCard
        job={job}
        plan={plan}
        first={null}
        looks={looks}
        chosen={false}
        onChoose={() => view.running.peek()?.stop()}
      />
    </section>
  );
}

/** The same as a picture, while there is no plan to draw. */
export function FoundPicture({ plan, looks }: { plan: Plan; looks: FaceLooks }) {
  const narrow = useNarrow();
  return (
    <section class="drawings" aria-label="Found so far">
      <figure class="section-drawing">
        <figcaption>The best so far</figcaption>
        <PlanPicture plan={plan} looks={looks} width={narrow ? 340 : 760} />
      </figure>
    </section>
  );
}
