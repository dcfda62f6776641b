import { useEffect, useMemo, useRef } from 'preact/hooks';
import { frontsOf } from '../../../leaves';
import { aheadId, frontReports, leafKey } from '../../../plan';
import { formatLength } from '../../../units';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { aheadView } from './ahead-view';
import { extentOfFronts, frontItems, standing, woodItems } from './elevation-items';
import '../../styles/ahead.css';

/** The leaves to come as they are likely to look, and the doors on them: an estimate, and marked as one. */
export function AheadDrawing({ store }: { store: JobStore }) {
  const units = useUnits();
  const view = aheadView(store);
  const images = view.images.value;
  const boards = Object.values(store.job.value.boards).flatMap((board) => {
    const seen = view.of(board);
    return seen ? [{ board, seen }] : [];
  });
  if (boards.length === 0) return null;
  return (
    <>
      {view.set.value && <ElevationAhead store={store} />}
      {boards.map(({ board, seen }) => (
        <figure key={board.id} class="section-drawing ahead">
          <figcaption>
            Estimate: how the leaves of {board.name} are likely to look, outer face up. No leaf has been sawn yet.
          </figcaption>
          {seen.leaves.map(({ board: of, place, depth, trusted }) => (
            <div key={`${of} ${place}`} class={trusted ? 'ahead-leaf' : 'ahead-leaf doubted'}>
              <Picture
                image={images.get(leafKey(of, aheadId(place), 'top'))?.image ?? null}
                label={`Leaf ${place}, estimated`}
              />
              <span class="small">
                Leaf {place}, {formatLength(depth, units, { decimals: 1, unit: true })} in
                {trusted ? '' : ': only run and spacing'}
              </span>
            </div>
          ))}
        </figure>
      ))}
    </>
  );
}

function Picture({ image, label }: { image: HTMLCanvasElement | null; label: string }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const own = canvas.current;
    if (!own || !image) return;
    [own.width, own.height] = [image.width, image.height];
    own.getContext('2d')?.drawImage(image, 0, 0);
  }, [image]);
  return <canvas ref={canvas} role="img" aria-label={label} />;
}

/** The doors on the leaves to come, in their elevation. */
function ElevationAhead({ store }: { store: JobStore }) {
  const view = aheadView(store);
  const { job, set } = view.set.value as NonNullable<typeof view.set.value>;
  const images = view.images.value;
  const all = useMemo(() => standing(frontsOf(Object.values(job.doors)), frontReports(job, set)), [job, set]);
  const items = useMemo(
    () => [
      ...woodItems(all, images, null),
      ...frontItems(all, { chosen: null, cell: 0, marked: null, turned: null }).map((item) =>
        item.kind === 'text' ? { ...item, text: `${item.text}, estimate` } : item,
      ),
    ],
    [all, images],
  );
  return (
    <figure class="section-drawing ahead">
      <figcaption>Estimate: the doors as they are likely to look on leaves that are not sawn yet.</figcaption>
      <div class="ahead-elevation">
        <Sheet
          label="Estimated elevation of the doors"
          items={items}
          extent={extentOfFronts(all)}
          extentKey={`${all.length} fronts ahead`}
        />
      </div>
    </figure>
  );
}
