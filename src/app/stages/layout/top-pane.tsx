import { useMemo } from 'preact/hooks';
import { bounds } from '../../../geometry';
import type { TopReport } from '../../../plan';
import { type Extent, extentOf, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import { useNarrow } from '../../parts/use-narrow';
import type { Computed, PlanView } from '../../plan-view';
import { arranged, movedItem, paneShape } from './arranged';
import { jointDrag } from './joint-drag';
import { layoutLook } from './look';
import { PaneSwitch } from './pane-switch';
import { seamRuns } from './seam-runs';
import {
  bareTopItems,
  laidTop,
  roughHeight,
  roughTopItems,
  seamStrip,
  type TopDrawn,
  topHeight,
  topMarks,
  topName,
} from './top-items';
import type { FaceLooks } from './wood';

const NOTHING: readonly Item[] = [];
/** Between tops, and above the first where they are named, mm. */
const GAP = 200;
const NAMED = 180;
const ORIGIN: XY = [0, 0];
/** A stretch of a seam is looked at with this much of the wood around it, mm. */
const AROUND = 90;

/** Where each top stands on the sheet, and how large it all is. */
function laidOut(tops: readonly TopReport[], heightOf: (top: TopReport) => number, narrow: boolean) {
  const sizes = tops.map((top): XY => [top.size.length, heightOf(top)]);
  const { places, width, height } = arranged(sizes, paneShape(narrow), GAP);
  return { places: new Map(tops.map(({ id }, i) => [id, places[i] as XY])), width, height };
}

/** The finished tops, large, composed from the photos of their slabs; or their blanks as they come off the slabs. */
export function TopPane({ view, computed, looks }: { view: PlanView; computed: Computed; looks: FaceLooks }) {
  const units = useUnits();
  const narrow = useNarrow();
  const look = layoutLook(view);
  const drag = jointDrag(view);
  const { plan, report } = computed;
  const { tops, slabs } = report;
  const dragged = view.dragged.value;
  const marks = look.marks.value;
  const rough = look.stage.value === 'rough';
  const allowance = view.store.job.value.shop.jointAllowance;
  const alongs = drag.alongs.value;

  const { places, width, height } = useMemo(
    () => laidOut(tops, rough ? (top) => roughHeight(top, allowance) : topHeight, narrow),
    [tops, rough, allowance, narrow],
  );
  const items = useMemo((): Item[] => {
    const blanks = slabs.flatMap((slab) => slab.blanks);
    return tops.flatMap((top): Item[] => {
      const [x0, y0] = places.get(top.id) ?? ORIGIN;
      const aside = (own: readonly Item[]): Item[] => own.map((item) => movedItem(item, [x0, 0]));
      const held = dragged?.placement.top === top.id ? dragged : null;
      const moved = held ?? dragged?.others.find(({ placement }) => placement.top === top.id) ?? null;
      const drawn: TopDrawn = {
        top,
        placement: moved?.placement ?? top.placement,
        outline: moved?.outline ?? top.outline,
        held: moved !== null,
      };
      const name = tops.length > 1 ? [topName(top, y0)] : [];
      if (rough) return aside([...name, ...roughTopItems(drawn, blanks, looks, allowance, y0, units)]);
      const wood = bareTopItems(drawn, looks, y0);
      if (!marks) return aside([...name, ...wood]);
      const planned = plan.placements[top.id];
      const along = held ? held.along : !moved && planned && alongs.get(planned);
      return aside([
        ...name,
        ...wood,
        ...topMarks(drawn, y0, units),
        ...(along ? seamStrip(drawn, seamRuns(along, top.size.length), y0) : []),
      ]);
    });
  }, [plan, tops, slabs, places, dragged, rough, marks, looks, allowance, alongs, units]);

  const close = look.close.value;
  const closeTop = close && tops.find(({ id }) => id === close.top);
  const whole = extentOf(
    [
      [-40, tops.length > 1 ? -NAMED : -100],
      [width + 110, height - (rough ? 40 : 70)],
    ],
    0,
  );
  const extent = close && closeTop ? closeExtent(closeTop, close, places.get(closeTop.id) ?? ORIGIN) : whole;
  const keys = {
    s: () => look.toggleMarks(),
    r: () => {
      look.stage.value = rough ? 'finished' : 'rough';
    },
  };

  return (
    <Sheet
      label={
        rough ? `Drawing of the blanks of ${plan.name}` : `Drawing of ${plan.name}: the finished top, from its photos`
      }
      items={dragged ? NOTHING : items}
      moving={dragged ? items : NOTHING}
      extent={extent}
      extentKey={`${plan.id}/${rough}/${tops.length}/${close ? `${close.top}/${close.from}/${close.to}` : ''}`}
      keys={keys}
      keysSay="S shows and hides the seam; R changes between the rough blanks and the finished top."
      foot={
        <>
          <PaneSwitch look={look} />
          <button
            type="button"
            class="button quiet"
            aria-pressed={marks}
            disabled={rough}
            onClick={() => look.toggleMarks()}
          >
            Seam
          </button>
          <button type="button" class="button quiet" aria-pressed={rough} onClick={keys.r}>
            Rough
          </button>
        </>
      }
    />
  );
}

/** The part of the sheet that shows a stretch of a top's seam. */
function closeExtent(top: TopReport, { from, to }: { from: number; to: number }, [x0, y0]: XY): Extent | null {
  const seam = top.seams[0];
  if (!seam) return null;
  const ys = seam.line.map((at) => laidTop(top, y0)(at)[1]);
  const box = bounds([
    [x0 + from, Math.min(...ys)],
    [x0 + to, Math.max(...ys)],
  ]);
  return {
    minX: box.minX - AROUND,
    maxX: box.maxX + AROUND,
    minY: box.minY - 2 * AROUND,
    maxY: box.maxY + 2 * AROUND,
  };
}
