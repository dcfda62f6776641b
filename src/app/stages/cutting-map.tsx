import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { MapFiles } from '../../../workers/solver.worker';
import { DOORS_ALONE } from '../../plan';
import { GuideButton } from '../guide/guide-button';
import { handOver, jobFileOf } from '../jobs';
import { Choices } from '../parts/choices';
import { TroubleNote } from '../parts/problem';
import { Progress } from '../parts/progress';
import { planView } from '../plan-view';
import { go, jobAddress } from '../route';
import type { JobStore } from '../store';
import { mapMaker } from './map/map-maker';
import { MarksScreen } from './map/marks-screen';
import { PagePicture } from './map/page-picture';
import { PrintChoices } from './map/print-choices';
import { papersAlone } from './marks';
import { NeedsPlan } from './needs-plan';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';
import { OnlyTaped } from './yard/only-taped';

const PANES = [
  ['papers', 'Papers'],
  ['marks', 'Marks and tape'],
] as const;

/** The papers to carry to the slab, as they will print, and their files. */
export function CuttingMap({ store }: StageProps) {
  const [pane, setPane] = useState<'papers' | 'marks'>('papers');
  const panes = <Choices tabs label="What is shown" options={PANES} value={pane} onChange={(next) => setPane(next)} />;
  if (pane === 'marks') return <MarksScreen store={store} panes={panes} />;
  return <Papers store={store} panes={panes} />;
}

function Papers({ store, panes }: StageProps & { panes: ComponentChildren }) {
  const maker = mapMaker(store);
  const [page, setPage] = useState(0);
  const paper = maker.paper.value;
  const job = store.job.value;
  const alone = papersAlone(job);
  const plan = planView(store).plan.value ?? (alone ? DOORS_ALONE : null);
  useEffect(() => {
    if (plan) void maker.draw(job, plan, paper);
  }, [maker, job, plan, paper]);
  const made = maker.made.value;
  const shown = made?.pages[Math.min(page, made.pages.length - 1)];
  const running = maker.running.value;

  return (
    <StageLayout
      title="Cutting map"
      drawing={
        shown ? (
          <PagePicture {...shown} />
        ) : plan ? (
          <div class="empty-sheet">
            <p>{running ? 'Drawing the sheets …' : 'Nothing is drawn yet.'}</p>
          </div>
        ) : (
          <NeedsPlan store={store} />
        )
      }
      facts={
        <>
          {panes}
          <GuideButton chapter="map">How to read it</GuideButton>
          <TroubleNote trouble={maker.trouble.value} />
          {plan === DOORS_ALONE && Object.keys(job.tops).length > 0 && (
            <div class="note stack">
              <p>These are the papers of the {alone} alone. Those of the tops follow from a plan.</p>
              <button type="button" class="button" onClick={() => go(jobAddress(store.id, 'layout'))}>
                Go to Layout
              </button>
            </div>
          )}
          {plan && <OnlyTaped job={job} />}
          <PrintChoices store={store} maker={maker} />
          {made && (
            <>
              <nav class="card" aria-label="Sheets">
                <ol class="pages">
                  {made.pages.map(({ name, title }, i) => (
                    <li key={name}>
                      <button
                        type="button"
                        class="button quiet"
                        aria-current={made.pages[i] === shown}
                        onClick={() => setPage(i)}
                      >
                        {title}
                      </button>
                    </li>
                  ))}
                </ol>
              </nav>
              <Downloads store={store} made={made} />
            </>
          )}
          {/* Below the sheets of before, which stay where they are while they are drawn anew. */}
          {running && (
            <Progress label={running.label} fraction={running.fraction} note={running.note} onStop={running.stop} />
          )}
        </>
      }
    />
  );
}

function Downloads({ store, made }: { store: JobStore; made: MapFiles }) {
  const save = (name: string, type: string, bytes: Uint8Array) =>
    handOver(new File([bytes as Uint8Array<ArrayBuffer>], name, { type }));
  const pdf = made.files.find(({ name }) => name.endsWith('.pdf'));
  const ending = (end: string) => made.files.filter(({ name }) => name.endsWith(end));
  const zipped = async (end: string, called = end.slice(1)) => {
    const { zipSync } = await import('fflate');
    const files = Object.fromEntries(ending(end).map(({ name, bytes }) => [name, bytes]));
    return save(
      `cutting-map-${called}.zip`,
      'application/zip',
      zipSync(files, { level: 6, mtime: new Date(store.job.value.date) }),
    );
  };
  return (
    <section class="card stack" aria-label="Files">
      <h2>Files</h2>
      {pdf && (
        <button type="button" class="button main" onClick={() => void save(pdf.name, pdf.type, pdf.bytes)}>
          Save the PDF
        </button>
      )}
      <div class="row wrap">
        <button type="button" class="button" onClick={() => void zipped('.svg')}>
          Sheets as SVG
        </button>
        <button type="button" class="button" onClick={() => void zipped('.dxf')}>
          Drawings as DXF
        </button>
        <button type="button" class="button" onClick={() => void zipped('.csv')}>
          Tables as CSV
        </button>
        {ending('.png').length > 0 && (
          <button type="button" class="button" onClick={() => void zipped('.png')}>
            Pictures as PNG
          </button>
        )}
        <button type="button" class="button" onClick={() => void zipped('', 'all')}>
          All files
        </button>
        <button type="button" class="button" onClick={() => void jobFileOf(store).then(handOver)}>
          Job file
        </button>
      </div>
      <p class="small soft">Print at 100 %, and measure the check line on the templates before you cut by them.</p>
    </section>
  );
}
