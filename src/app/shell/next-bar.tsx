import { FileButton } from '../parts/file-button';
import { useStore } from '../parts/job-context';
import { go, jobAddress, route } from '../route';
import { type NextStep, nextStep } from '../stages/next-step';
import { addPhotos } from '../stages/stock/read-photos';
import { stockView } from '../stages/stock/view';
import type { JobStore } from '../store';

/** The one next step of the job, under the thumb in every stage. */
export function NextBar() {
  const store = useStore();
  const here = route.value.at === 'job' ? route.value.stage : 'stock';
  const step = nextStep(store.job.value, here);
  // What photos show is asked first, with an answer of its own to tap.
  if (!step || (here === 'stock' && stockView(store).arrivals.value)) return null;
  const says = `Next: ${step.says}`;
  if (step.does === 'add photos' && here === 'stock') {
    const view = stockView(store);
    return (
      <FileButton
        accept="image/*"
        multiple
        main
        onFiles={(files) => {
          if (step.slab) view.look(step.slab);
          void addPhotos(view, files);
        }}
      >
        {says}
      </FileButton>
    );
  }
  return (
    <button type="button" class="button main" onClick={() => void take(store, step, here)}>
      {says}
      {step.stage !== here && <span aria-hidden="true"> ›</span>}
    </button>
  );
}

/** Goes to where the step is taken, and takes it where a tap is enough. What does the work is fetched only then. */
async function take(store: JobStore, { stage, does, slab, panel }: NextStep, here: string): Promise<void> {
  const view = stockView(store);
  if (slab) view.look(slab);
  if (panel) view.open(panel);
  if (does === 'look at boards') view.lookAtBoards();
  if (does === 'look at the rack') (await import('../stages/layout/yard-view')).yardView(store).open.value = true;
  if (does === 'add a top') void (await import('../stages/wanted/add-top')).addTop(store);
  if (stage !== here) go(jobAddress(store.id, stage));
  if (panel === 'photo') (await import('../stages/stock/read-photos')).readWaiting(view);
  if (does !== 'lay out' && does !== 'keep the plan') return;
  const plans = (await import('../plan-view')).planView(store);
  const plan = plans.plan.peek();
  if (does === 'lay out') await plans.propose();
  else if (plan) plans.keep(plan.id);
}
