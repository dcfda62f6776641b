import { useEffect, useMemo } from 'preact/hooks';
import '../../styles/leaves.css';
import { frontsOf } from '../../../leaves';
import { frontReports, leafStack, setReport } from '../../../plan';
import { Cautions } from '../../parts/cautions';
import { go, jobAddress } from '../../route';
import type { JobStore } from '../../store';
import { Elevation } from './elevation';
import { standing } from './elevation-items';
import { FrontCard } from './front-card';
import { GradeCard } from './grade-card';
import { useLeafImages } from './leaf-images';
import { leafName } from './leaf-words';
import { PressingCard } from './pressing-card';
import { SetCard } from './set-card';
import { setView } from './set-view';
import { StackCard } from './stack-card';

/** What of the set both the drawing and the facts show. */
export function useSet(store: JobStore) {
  const view = setView(store);
  const job = store.job.value;
  const set = view.set.value;
  const images = useLeafImages(store);
  const { boards, doors, shop } = job;
  const fronts = useMemo(() => (set ? frontReports(job, set) : []), [set, boards, doors]);
  const wanted = useMemo(() => frontsOf(Object.values(doors)), [doors]);
  const all = useMemo(() => standing(wanted, fronts), [wanted, fronts]);
  const stack = useMemo(() => leafStack(job, set ?? { without: [] }, fronts), [boards, set, fronts]);
  const kept = view.kept.value;
  const report = useMemo(() => (kept ? setReport(job, kept) : null), [kept, shop, doors, boards]);
  useEffect(() => view.checkSoon(), [kept]);
  return { view, job, images, fronts, all, stack, report };
}
export type SetInView = ReturnType<typeof useSet>;

/** The elevation of the doors, or what is to be done before there is one. */
export function SetDrawing({ store, shown }: { store: JobStore; shown: SetInView }) {
  const { view, all, images, fronts, stack } = shown;
  if (all.length === 0) {
    return (
      <div class="empty-sheet">
        <p>No doors yet. Say under Tops and doors which fronts are wanted, and where they stand.</p>
        <button type="button" class="button main" onClick={() => go(jobAddress(store.id, 'tops'))}>
          Add doors
        </button>
      </div>
    );
  }
  /** The leaf before or after that of the chosen piece is laid in its place. */
  function step(by: number) {
    const front = fronts.find(({ id }) => id === view.front.peek());
    const [side, cell] = [view.side.peek(), view.cell.peek()];
    const piece = (side === 'face' ? front?.pieces : front?.back)?.[cell];
    const leaves = stack.filter(({ without }) => !without);
    const at = leaves.findIndex((leaf) => piece && leafName(leaf) === leafName(piece));
    const next = leaves[at + by];
    if (front && at >= 0 && next) void view.exchange({ front: front.id, side, cell }, leafName(next));
  }
  return <Elevation view={view} all={all} images={images} onStep={step} />;
}

/** What stands beside it. */
export function SetSide({ store, shown }: { store: JobStore; shown: SetInView }) {
  const { view, job, images, fronts, all, stack, report } = shown;
  const front = fronts.find(({ id }) => id === view.front.value);
  if (all.length === 0) return <p>Doors are laid on leaves once both are there.</p>;
  return (
    <>
      {stack.length === 0 && (
        <section class="note stack">
          <p>
            No leaf was photographed yet: the fronts stand in their plain shapes. Once the board is sawn, add photos of
            its leaves under Stock.
          </p>
          <button type="button" class="button" onClick={() => go(jobAddress(store.id, 'stock'))}>
            To the boards under Stock
          </button>
        </section>
      )}
      {front && <FrontCard view={view} front={front} fronts={fronts} stack={stack} images={images} />}
      <SetCard view={view} job={job} leaves={stack.length} />
      {!front && fronts.length > 0 && (
        <p class="small soft">
          Tap a front for its leaves, its back and its joints; drag it onto another of its size to change them.
        </p>
      )}
      {stack.length > 0 && <StackCard view={view} boards={job.boards} stack={stack} fronts={fronts} images={images} />}
      {report && <GradeCard grade={report.grade} fronts={report.fronts} />}
      <PressingCard store={store} press={report?.press ?? null} />
      <Cautions of={['leaves', 'vacuum press', 'dust']} />
    </>
  );
}
