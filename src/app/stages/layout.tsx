import { type Job, type Placement, type Plan, wantedTops } from '../../job';
import { moistureDoubts, onlyTaped, type PlanReport, sapwoodWords, stockApart } from '../../plan';
import { TroubleNote } from '../parts/problem';
import { Progress } from '../parts/progress';
import { planView } from '../plan-view';
import { Compare } from './layout/compare';
import { CompareCard, KEPT_BEFORE } from './layout/compare-card';
import { FoundCard, FoundPicture } from './layout/found-so-far';
import { Provisional } from './layout/joint-again';
import { layoutLook } from './layout/look';
import { isEmpty, Misses, NothingHad } from './layout/misses';
import { OffcutCard } from './layout/offcut-card';
import { Panes } from './layout/panes';
import { PlanCard } from './layout/plan-card';
import { TopPanel } from './layout/top-panel';
import { VerdictNote } from './layout/verdict-note';
import { WeightsCard } from './layout/weights-card';
import { WhatIfCard } from './layout/what-if';
import { useFaceLooks } from './layout/wood';
import { WouldDo } from './layout/would-do';
import { YardScreen } from './layout/yard-screen';
import { yardView } from './layout/yard-view';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';
import { OnlyTaped } from './yard/only-taped';
import { TapeScreen } from './yard/tape-screen';
import { tapeView } from './yard/tape-view';

/** What is missing before tops can be laid out, in words; null when nothing is. */
function lacking(job: Job): string | null {
  if (Object.keys(job.tops).length === 0) return 'No top is wanted yet. Say its size under Tops and doors.';
  const faces = Object.values(job.flitches).flatMap(({ slabs }) =>
    Object.values(slabs).flatMap((slab) => Object.values(slab.faces)),
  );
  if (faces.some(({ outline }) => outline)) return null;
  const taped = onlyTaped(job);
  if (taped) return taped;
  return faces.some(({ photos }) => Object.keys(photos).length > 0)
    ? 'No slab has an outline yet. Read the photos under Stock.'
    : 'No slab has an outline yet. Add photos under Stock.';
}

/** What stands on the sheet while no plan is drawn on it. */
function sheetSays(planned: boolean, running: boolean): string {
  if (planned) return 'Computing the plan …';
  return running ? 'Looking for where the tops come out of the slabs …' : 'Ready to lay out the tops on the slabs.';
}

/** The tops of a plan as the job lists them. */
const inOrder = ({ placements }: Plan, job: Job): Placement[] =>
  wantedTops(job).flatMap(({ id }) => placements[id] ?? []);

/** Plans for the tops; or, at a yard, the rack that their slabs are bought from. */
export function Layout({ store }: StageProps) {
  if (!yardView(store).open.value) return <Plans store={store} />;
  return tapeView(store).slab.value ? <TapeScreen store={store} /> : <YardScreen store={store} />;
}

/** Plans for the tops, drawn on the slabs and as the finished top; one is kept. */
function Plans({ store }: StageProps) {
  const view = planView(store);
  const job = store.job.value;
  const plan = view.plan.value;
  const computed = view.computed.value;
  const running = view.running.value;
  const lacks = lacking(job);
  const apart = stockApart(job);
  const found = view.found.value[0];
  const tried = view.whatIf.value;
  const comparedId = layoutLook(view).comparedId.value;
  const before = comparedId === KEPT_BEFORE ? view.keptBefore.value : null;
  const looks = useFaceLooks(store, found ? [found] : (tried?.plans ?? (before ? [before.plan] : undefined)));
  const compared = view.plans.value.find(({ id }) => id === comparedId && id !== plan?.id);
  const other =
    (tried && { plan: tried.plans[0], job: tried.job, name: tried.trial.name }) ??
    (compared && { plan: compared, job, name: compared.name }) ??
    (before && { ...before, name: `${before.plan.name} kept before` });
  const report = computed && computed.plan === plan ? computed.report : null;
  // What is computed anew is said of the plan as it was until then: nothing jumps at every move of a joint.
  const said = computed?.plan.id === plan?.id ? computed?.report : undefined;

  return (
    <StageLayout
      title="Layout"
      {...(running && { primary: null })}
      drawing={
        plan && other ? (
          <Compare one={{ plan, job, name: plan.name }} other={other} looks={looks} />
        ) : plan && isEmpty(plan) && !running ? (
          <NothingHad view={view} plan={plan} tops={Object.keys(job.tops).length} />
        ) : plan && !isEmpty(plan) && computed ? (
          <Panes view={view} computed={computed} looks={looks} />
        ) : found ? (
          <FoundPicture plan={found} looks={looks} />
        ) : (
          <div class="empty-sheet">
            <p>
              {lacks ?? view.trouble.value?.message ?? sheetSays(plan !== null && !isEmpty(plan), running !== null)}
            </p>
            {!plan && apart && <p class="note">{apart}</p>}
            {!lacks && !plan && !running && (
              <button type="button" class="button" onClick={() => void view.propose()}>
                Lay out the tops
              </button>
            )}
          </div>
        )
      }
      facts={
        <>
          <button
            type="button"
            class="button"
            onClick={() => {
              yardView(store).open.value = true;
            }}
          >
            Which slabs to buy
          </button>
          {running ? (
            <Progress label={running.label} fraction={running.fraction} note={running.note} onStop={running.stop} />
          ) : (
            plan && (
              <button type="button" class="button" onClick={() => void view.propose()}>
                Lay out again
              </button>
            )
          )}
          {running && <FoundCard view={view} plan={found} looks={looks} />}
          <TroubleNote trouble={view.trouble.value} />
          {lacks ? <p class="note">{lacks}</p> : <OnlyTaped job={job} />}
          {!plan && apart && <p class="note">{apart}</p>}
          {!lacks && !plan && !running && (
            <p>
              Several plans are worked out. Each says how its seam looks, what thickness it leaves and what is wasted.
            </p>
          )}
          {view.plans.value.map((each, i) => (
            <PlanCard
              key={each.id}
              job={job}
              plan={each}
              first={i === 0 ? null : (view.plans.value[0] ?? null)}
              looks={looks}
              chosen={each.id === plan?.id}
              onChoose={() => view.choose(each.id)}
            />
          ))}
          {plan && !isEmpty(plan) && <Misses plan={plan} />}
          {plan && !isEmpty(plan) && <WouldDo view={view} plan={plan} />}
          {plan &&
            Object.values(plan.placements)
              .flatMap((placement) => moistureDoubts(job, placement))
              .map((words) => (
                <p key={words} class="note miss">
                  <strong>Not to be glued yet:</strong> {words}
                </p>
              ))}
          {plan && !isEmpty(plan) && (
            <button type="button" class="button" disabled={job.keptPlan === plan.id} onClick={() => view.keep(plan.id)}>
              {job.keptPlan === plan.id ? `${plan.name} is kept` : `Keep ${plan.name}`}
            </button>
          )}
          {plan && !isEmpty(plan) && <VerdictNote view={view} report={report} />}
          {plan && <CompareCard view={view} plan={plan} />}
          {said && <KeptOffBelow report={said} />}
          {said?.tops.flatMap(({ id, name, sapwood }) =>
            sapwoodWords(sapwood).map((words) => (
              <p key={`${id}${words}`} class="note">
                <strong>{name}:</strong> {words}
              </p>
            )),
          )}
          {plan && <Provisional plan={plan} />}
          {plan &&
            inOrder(plan, job).map((placement) => (
              <TopPanel key={placement.top} view={view} plan={plan} placement={placement} report={report} />
            ))}
          {plan && <WhatIfCard view={view} />}
          {said && <OffcutCard job={job} report={said} />}
          {!lacks && <WeightsCard />}
        </>
      }
    />
  );
}

/** What only the other face of a slab shows and the plan keeps off nevertheless. */
function KeptOffBelow({ report }: { report: PlanReport }) {
  const names = report.slabs.flatMap(({ farDefects }) =>
    farDefects.filter(({ defect }) => defect.permit === 'avoid').map(({ name }) => name),
  );
  if (names.length === 0) return null;
  return (
    <p class="note">
      <strong>Kept off, though it is seen on the other face:</strong> {names.join('; ')}.
    </p>
  );
}
