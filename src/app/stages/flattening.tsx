import { useEffect, useState } from 'preact/hooks';
import type { Job } from '../../job';
import type { BlankReport, BlankSections } from '../../plan';
import { Cautions } from '../parts/cautions';
import { Choices } from '../parts/choices';
import { planView } from '../plan-view';
import type { JobStore } from '../store';
import { solverWork } from '../work';
import { BlankFacts } from './flattening/blank-facts';
import { SectionDrawing } from './flattening/section-drawing';
import { BlankWoodCard, TopWoodCard } from './flattening/wood-card';
import { NeedsPlan } from './needs-plan';
import type { StageMark, StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** How thick each blank finishes, in how many passes, seen from the side. */
export function Flattening({ store }: StageProps) {
  const [chosen, setChosen] = useState('');
  const computed = planView(store).computed.value;
  const blanks = computed?.report.slabs.flatMap((slab) => slab.blanks.map((blank) => ({ slab, blank }))) ?? [];
  const shown = blanks.find(({ blank }) => blank.id === chosen) ?? blanks[0];
  const sections = useSections(store, shown?.blank);
  if (!shown) return <StageLayout title="Flattening" drawing={<NeedsPlan store={store} />} facts={<Nothing />} />;
  const { slab, blank } = shown;
  const blankWood = computed?.report.wood.blanks.find(({ id }) => id === blank.id);
  const topWood = computed?.report.wood.tops.find(({ id }) => id === blank.top);
  const name = `${slab.name}, ${blank.topName} strip ${blank.strip + 1}`;
  return (
    <StageLayout
      title="Flattening"
      drawing={
        <div class="drawings">
          {sections ? (
            <>
              <SectionDrawing title={`${name}: from the side`} section={sections.along} />
              <SectionDrawing title={`${name}: from the end, half way along`} section={sections.across} />
            </>
          ) : (
            <p class="on-paper">
              {blank.flattening
                ? 'Drawing …'
                : `${slab.name} has no readings: no reading, no thickness. Type them under Stock.`}
            </p>
          )}
        </div>
      }
      facts={
        <>
          <Choices
            tabs
            label="Blank"
            options={blanks.map(
              (each) =>
                [each.blank.id, `${each.slab.name}${blanks.length > 2 ? `, ${each.blank.topName}` : ''}`] as const,
            )}
            value={blank.id}
            onChange={(id) => setChosen(id)}
          />
          {blank.flattening ? (
            <BlankFacts blank={blank} flat={blank.flattening} />
          ) : (
            <p class="note">No readings yet, so nothing can be said of its thickness.</p>
          )}
          {blankWood && <BlankWoodCard wood={blankWood} />}
          {topWood && <TopWoodCard wood={topWood} />}
          <Cautions of={['router sled', 'dust', 'lifting', 'glue-up', 'fixing']} />
        </>
      }
    />
  );
}

const Nothing = () => <p>Thickness, passes and shims of each blank come with a plan.</p>;

/** The side sections of a blank; null until they are computed. */
function useSections(store: JobStore, blank: BlankReport | undefined): BlankSections | null {
  const [shown, setShown] = useState<{ of: BlankReport; sections: BlankSections | null } | null>(null);
  useEffect(() => {
    const flat = blank?.flattening;
    const strip = blank && planView(store).plan.peek()?.placements[blank.top]?.strips[blank.strip];
    if (!blank || !flat || !strip) return;
    const stopper = new AbortController();
    const job: Job = store.job.peek();
    solverWork
      .call(
        stopper.signal,
        () => {},
        (api, id, tell) => api.sections(id, job, strip, flat, tell),
      )
      .then((sections) => setShown({ of: blank, sections }))
      .catch(() => {});
    return () => stopper.abort();
  }, [store, blank]);
  return shown && shown.of === blank ? shown.sections : null;
}

/** What stands under the stage's name. */
export function flatteningMark(job: Job): StageMark {
  const plan = job.plans[job.keptPlan ?? ''];
  if (!plan) return { done: false, says: 'no plan kept' };
  const placements = Object.values(plan.placements);
  const blanks = placements.reduce((sum, { strips }) => sum + strips.length, 0);
  const known = placements.every(({ thickness }) => thickness !== null);
  return { done: known, says: known ? `${blanks} blank${blanks === 1 ? '' : 's'}` : 'readings missing' };
}
