import type { ComponentChildren } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { Segment } from '../../geometry';
import type { Strip } from '../../job';
import { type BlankReport, type SlabReport, type UsualLine, usualLine } from '../../plan';
import { Cautions } from '../parts/cautions';
import { Choices } from '../parts/choices';
import { TickField } from '../parts/fields';
import { type Computed, planView } from '../plan-view';
import type { JobStore } from '../store';
import { BlankFacts } from './flattening/blank-facts';
import { BlankSheet } from './flattening/blank-sheet';
import type { PassShown } from './flattening/contact-items';
import { SectionDrawing, SectionLegend, SectionRoom } from './flattening/section-drawing';
import { SkipCurve } from './flattening/skip-curve';
import { useSection, useStanding } from './flattening/use-blank-drawing';
import { BlankWoodCard, TopWoodCard } from './flattening/wood-card';
import { NeedsPlan } from './needs-plan';
import type { StageProps } from './stage';
import { StageLayout } from './stage-layout';

/** How thick each blank finishes, in how many passes, on its slab and from the side. */
export function Flattening({ store }: StageProps) {
  const [chosen, setChosen] = useState('');
  const computed = planView(store).computed.value;
  const blanks = computed?.report.slabs.flatMap((slab) => slab.blanks.map((blank) => ({ slab, blank }))) ?? [];
  const { slab, blank } = blanks.find(({ blank: { id } }) => id === chosen) ?? blanks[0] ?? {};
  if (!computed || !slab || !blank)
    return <StageLayout title="Flattening" drawing={<NeedsPlan store={store} />} facts={<Nothing />} />;
  return (
    <BlankStage
      key={blank.id}
      store={store}
      computed={computed}
      slab={slab}
      blank={blank}
      chooser={
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
      }
    />
  );
}

const SPARES = [
  ['balanced', 'both faces'],
  ['keep top', 'the underside'],
  ['keep bottom', 'the upper face'],
] as const;

const LINES: readonly UsualLine[] = ['along', 'across', 'corner to corner'];

interface BlankStageProps {
  store: JobStore;
  computed: Computed;
  slab: SlabReport;
  blank: BlankReport;
  chooser: ComponentChildren;
}

function BlankStage({ store, computed, slab, blank, chooser }: BlankStageProps) {
  const strip = computed.plan.placements[blank.top]?.strips[blank.strip];
  const [usual, setUsual] = useState<UsualLine | 'drawn'>('along');
  const [drawn, setDrawn] = useState<Segment<'face'> | null>(null);
  const [toScale, setToScale] = useState(false);
  const [shown, setShown] = useState<PassShown | null>(null);
  const line = useMemo(
    () => (usual === 'drawn' ? drawn : strip ? usualLine(strip, usual) : null),
    [usual, drawn, strip],
  );
  const section = useSection(store, strip, blank, line);
  const standing = useStanding(store, strip, blank);
  const face = store.job.value.flitches[slab.flitch]?.slabs[slab.slab]?.faces[slab.face];
  const editStrip = (what: string, change: (own: Strip) => void) =>
    store.edit(what, (draft) => {
      const own = draft.plans[computed.plan.id]?.placements[blank.top]?.strips[blank.strip];
      if (own) change(own);
    });
  const name = `${slab.name}, ${blank.topName} strip ${blank.strip + 1}`;
  const { wood } = computed.report;
  const blankWood = wood.blanks.find(({ id }) => id === blank.id);
  const topWood = wood.tops.find(({ id }) => id === blank.top);
  return (
    <StageLayout
      title="Flattening"
      drawing={
        face && line && blank.flattening ? (
          <div class="blank-drawing">
            <BlankSheet
              store={store}
              face={face}
              blank={blank}
              title={name}
              line={line}
              onLine={(next) => {
                setDrawn(next);
                setUsual('drawn');
              }}
              standing={standing}
              shown={shown}
            />
            <div class="blank-section">
              <div class="row wrap">
                <Choices
                  label="Seen from the side"
                  options={[
                    ...LINES.map((each) => [each, each === 'corner to corner' ? 'corners' : each] as const),
                    ...(usual === 'drawn' ? [['drawn', 'as drawn'] as const] : []),
                  ]}
                  value={usual}
                  onChange={(next) => setUsual(next)}
                />
                <TickField label="To scale" value={toScale} onChange={setToScale} />
              </div>
              {section ? (
                <SectionDrawing title={name} section={section} toScale={toScale} />
              ) : (
                <SectionRoom title={name} />
              )}
              <SectionLegend />
            </div>
          </div>
        ) : (
          <div class="drawings">
            <p class="on-paper">{slab.name} has no readings: no reading, no thickness. Type them under Stock.</p>
          </div>
        )
      }
      facts={
        <>
          {chooser}
          {blank.flattening ? (
            <>
              <BlankFacts blank={blank} flat={blank.flattening} shown={shown} onShow={setShown} />
              <SkipCurve
                flat={blank.flattening}
                accept={strip?.accept}
                onAccept={(accept) =>
                  editStrip('Leave part of a face low', (own) => {
                    if (accept) own.accept = accept;
                    else delete own.accept;
                  })
                }
              />
              <section class="card stack" aria-label="What is to spare">
                <h2>What is to spare comes off</h2>
                <Choices
                  label="What is to spare comes off"
                  options={SPARES}
                  value={strip?.spare ?? 'balanced'}
                  onChange={(spare) =>
                    editStrip('Where the rest of the thickness goes', (own) => {
                      own.spare = spare;
                    })
                  }
                />
                <p class="small soft">
                  Off both faces alike the blank stays still. Off one face only, it keeps the figure of the other, and
                  may move.
                </p>
              </section>
            </>
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
