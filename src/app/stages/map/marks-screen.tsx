import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { divisionOf, measuresOf, troublesOf } from '../../../cutmap';
import { judgedBefore } from '../../../plan';
import { Choices } from '../../parts/choices';
import { useUnits } from '../../parts/job-context';
import { useLater } from '../../parts/use-later';
import { planView } from '../../plan-view';
import { go, jobAddress } from '../../route';
import type { JobStore } from '../../store';
import { StageLayout } from '../stage-layout';
import { markedSlabs, marksView } from './marked-slab';
import { MarksCard } from './marks-card';
import { MarksSheet } from './marks-sheet';
import { PointsCard } from './points-card';
import { TapeCard } from './tape-card';
import { lengthWords } from './tape-words';
import '../../styles/map.css';

/** The two marks of each slab, what is measured from them, and what the tape says of it. */
export function MarksScreen({ store, panes }: { store: JobStore; panes: ComponentChildren }) {
  const view = marksView(store);
  const report = planView(store).computed.value?.report ?? null;
  const job = store.job.value;
  const slabs = useMemo(() => markedSlabs(job, report), [job, report]);
  const marked = slabs.find(({ key }) => key === view.slab.value) ?? slabs[0];
  const dragged = view.dragged.value;
  const units = useUnits();
  const division = divisionOf(job);
  const resting = useLater(
    marked?.key ?? '',
    () => (marked ? measuresOf(marked.measured, marked.own, division) : null),
    [marked?.measured, marked?.own, division],
  );
  // Marks that are known are followed by what a frame has time for; each ± comes after, and so do the cards that tell it.
  const set = dragged ?? marked?.measured.marks;
  const measures = useMemo(
    () => (marked && set ? measuresOf({ ...marked.measured, marks: set }, undefined, division) : resting),
    [marked?.measured, set, resting, division],
  );
  const troubles = useMemo(
    () => (marked && measures ? troublesOf(marked.measured, measures, (mm) => lengthWords(Math.round(mm), units)) : []),
    [marked?.measured, measures, units],
  );
  const before = report && judgedBefore(report.tops);
  const faults = report && !report.verdict.passed ? report.verdict.faults : [];
  if (!marked)
    return (
      <StageLayout
        title="Marks and tape"
        drawing={
          <div class="empty-sheet">
            <p>No slab is traced yet. Add a photo under Stock.</p>
          </div>
        }
        facts={
          <>
            {panes}
            <p>
              You may drill the marks before the photo: two small holes through the slab, a hand from one live edge,
              each two hands from an end, as far apart as can be. Once the photo is read, set A and B on them here.
            </p>
          </>
        }
      />
    );
  return (
    <StageLayout
      title="Marks and tape"
      drawing={<MarksSheet store={store} marked={marked} measures={measures ?? null} troubles={troubles} />}
      facts={
        <>
          {panes}
          <Choices
            tabs
            label="Slab"
            options={slabs.map(
              ({ key, slab, face }) => [key, `${slab.name}${face === 'bottom' ? ', underside' : ''}`] as const,
            )}
            value={marked.key}
            onChange={(key) => {
              view.slab.value = key;
              view.chosen.value = null;
            }}
          />
          {faults.length > 0 && (
            <div class="note miss stack" role="alert">
              <p>
                <strong>The plan cannot be sawn as it lies now:</strong> {faults[0]?.message}
              </p>
              <LayOutAgain store={store} />
            </div>
          )}
          {before && faults.length === 0 && (
            <div class="note stack">
              <p>{before}</p>
              <LayOutAgain store={store} />
            </div>
          )}
          {measures === undefined ? (
            <p class="soft to-come">Looking for where the two marks go …</p>
          ) : (
            <MarksCard key={marked.key} store={store} marked={marked} measures={measures} troubles={troubles} />
          )}
          {resting && marked.planned && (
            <TapeCard key={`tape-${marked.key}`} store={store} marked={marked} measures={resting} />
          )}
          {resting && <PointsCard store={store} measures={resting} />}
        </>
      }
    />
  );
}

const LayOutAgain = ({ store }: { store: JobStore }) => (
  <button
    type="button"
    class="button"
    onClick={() => {
      go(jobAddress(store.id, 'layout'));
      void planView(store).propose();
    }}
  >
    Lay out again
  </button>
);
