import { useMemo, useState } from 'preact/hooks';
import type { Point } from '../../../geometry';
import type { Top } from '../../../job';
import { formatLength } from '../../../units';
import { extentOf, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { topEditor } from './edit-top';
import { drawnTop, type Hold, holdsOf, type LaidTop, OFF, topItems, unlay } from './top-items';
import { intoBox, zoneBox } from './zones';

/** Room between one top and the next, and for its dimensions, mm on the sheet. */
const GAP = 260;
/** A zone is no smaller than this, mm. */
const LEAST = 5;

/** The top with one thing of it taken to a place of its frame. */
function held(top: Top, { what }: Hold, to: Point<'top'>): Top {
  if (what.is === 'corner') {
    if (top.shape?.kind !== 'polygon') return top;
    const outline = top.shape.outline.map((p, i) => (i === what.index ? to : p));
    return { ...top, shape: { ...top.shape, outline } };
  }
  const { kind, id, polygon } = what.zone;
  const box = zoneBox(top, polygon);
  const left = top.length - to[0];
  // The left front corner takes the zone along; the far one stretches it.
  const next =
    what.is === 'zone'
      ? { ...box, left, front: to[1] }
      : { ...box, long: Math.max(LEAST, left - box.left), deep: Math.max(LEAST, to[1] - box.front) };
  const moved = { ...top[kind][id], id, polygon: intoBox(top, polygon, next) };
  return { ...top, [kind]: { ...top[kind], [id]: moved } };
}

/**
 * The wanted tops to scale, one below the other: back above, front below, the band of a live edge between its two depths, and what is drawn in them,
 * to be taken hold of by finger or by keys.
 */
export function TopSheet({ store, tops }: { store: JobStore; tops: readonly Top[] }) {
  const units = useUnits();
  const [chosen, setChosen] = useState<string | null>(null);
  const [dragged, setDragged] = useState<Top | null>(null);
  const laid = useMemo(() => {
    let y0 = 0;
    return tops.map((own): LaidTop => {
      const frame = drawnTop(own);
      const top = dragged?.id === own.id ? dragged : frame;
      const at = { top: { ...top, name: `${own.count > 1 ? `${own.count} × ` : ''}${own.name}` }, y0, frame };
      y0 += frame.depth[1] + GAP;
      return at;
    });
  }, [tops, dragged]);
  const items = useMemo(() => laid.flatMap((one) => topItems(one, (mm) => formatLength(mm, units))), [laid, units]);
  const holds = useMemo(() => laid.flatMap(holdsOf), [laid]);
  const handles = useMemo(() => holds.map(({ handle }) => handle), [holds]);
  const last = laid.at(-1);
  const corners: XY[] = [
    [-2 * OFF, -2 * OFF],
    [Math.max(...laid.map(({ top }) => top.length)) + 3 * OFF, (last ? last.y0 + last.top.depth[1] : 0) + OFF],
  ];

  /** The top as it would be with a handle at `to`, to a whole millimetre. */
  function moved(handle: string, to: XY): Top | null {
    const hold = holds.find((one) => one.handle.id === handle);
    const own = tops.find(({ id }) => id === hold?.top);
    const place = laid.find(({ top }) => top.id === hold?.top);
    if (!hold || !own || !place) return null;
    const [x, y] = unlay(place)(to);
    const { length, depth } = place.frame;
    // Zones and corners lie in the frame of the shape as drawn.
    return held({ ...own, length, depth, shape: drawnTop(own).shape }, hold, [Math.round(x), Math.round(y)]);
  }

  function put(handle: string, to: XY) {
    const top = moved(handle, to);
    setDragged(null);
    if (top)
      topEditor(store, top).edit('Drawing', (own) => {
        Object.assign(own, top);
      });
  }

  return (
    <Sheet
      label={`Drawing of ${tops.length === 1 ? 'the wanted top' : `${tops.length} wanted tops`}`}
      items={items}
      extent={extentOf(corners, 0.02)}
      extentKey={JSON.stringify(tops.map(({ length, depth, shape }) => [length, depth, shape?.kind]))}
      handles={handles}
      chosen={chosen}
      onChoose={setChosen}
      onDrag={(id, to) => setDragged(moved(id, to))}
      onCancel={() => setDragged(null)}
      onDrop={put}
      onPlace={(id, at) => {
        put(id, at);
        setChosen(null);
      }}
      foot={chosen && <p class="drag-says">Tap where this corner is to go, or drag it there.</p>}
      onDelete={(id) => {
        const hold = holds.find(({ handle }) => handle.id === id);
        const top = tops.find((one) => one.id === hold?.top);
        if (hold && top)
          topEditor(store, top).edit('Drawing', (own) => {
            const { what } = hold;
            if (what.is !== 'corner') delete own[what.zone.kind][what.zone.id];
            else if (own.shape?.kind === 'polygon' && own.shape.outline.length > 3)
              own.shape.outline = own.shape.outline.filter((_, i) => i !== what.index);
          });
      }}
    />
  );
}
