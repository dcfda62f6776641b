import { useMemo } from 'preact/hooks';
import { bounds } from '../../../geometry';
import type { Placement } from '../../../job';
import { extentOf, type Handle, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import { useImages } from '../../parts/use-image';
import type { Computed, PlanView } from '../../plan-view';
import { type JointDrag, jointDrag } from './joint-drag';
import { jointItems, jointOf, type LaidSlab, slabItems } from './slab-items';
import { topHeight, topItems } from './top-items';

/** Between drawings, mm. */
const GAP = 230;
/** How far from the joint's middle the handle sits that turns it, as a share of half its length. */
const TURN_AT = 0.8;

interface Held {
  readonly placement: Placement;
  readonly side: 0 | 1;
  readonly kind: 'move' | 'turn';
  readonly shift: XY;
}

/** The finished tops as their photos show them, and below each slab with its strips and cuts; the joint lines can be dragged. */
export function PlanSheet({ view, computed }: { view: PlanView; computed: Computed }) {
  const units = useUnits();
  const { plan, report, tops } = computed;
  const job = view.store.job.value;
  const faces = report.slabs.map((slab) => job.flitches[slab.flitch]?.slabs[slab.slab]?.faces[slab.face] ?? null);
  const images = useImages(
    view.store,
    faces.map((face) => face?.picture?.file ?? null),
  );
  const drag = jointDrag(view);

  const { ground, slabs, corners } = useMemo(() => {
    let y = 0;
    const drawn: Item[] = [];
    for (const top of report.tops) {
      drawn.push(...topItems(top, tops.get(top.id), y, units));
      y += topHeight(top) + GAP;
    }
    const laid = report.slabs.flatMap((slab, i): LaidSlab[] => {
      const face = faces[i];
      if (!face) return [];
      const box = bounds(slab.outline.outer);
      const shift: XY = [-box.minX, y - box.minY];
      y += box.maxY - box.minY + GAP;
      return [{ slab, face, image: images[i] ?? null, shift }];
    });
    const widest = Math.max(
      0,
      ...report.tops.map(({ size }) => size.length),
      ...report.slabs.map(({ outline }) => bounds(outline.outer)).map((b) => b.maxX - b.minX),
    );
    const ends: XY[] = [
      [-90, -150],
      [widest + 150, y - GAP + 90],
    ];
    return { ground: [...drawn, ...laid.flatMap(slabItems)], slabs: laid, corners: ends };
  }, [report, tops, units, images]);

  const dragged = view.dragged.value;
  const items = useMemo((): Item[] => {
    const lines = Object.values(plan.placements).flatMap((placement) => jointItems(placement, slabs, 'joint'));
    return [...ground, ...lines, ...(dragged ? jointItems(dragged, slabs, 'chosen') : [])];
  }, [ground, slabs, plan, dragged]);

  const held = useMemo(() => heldJoints(plan.placements, slabs), [plan, slabs]);
  const handles = useMemo((): Handle[] => [...held].map(([id, h]) => ({ id, at: handlePlace(h) })), [held]);

  const carry = (id: string, to: XY): Held | null => {
    const h = held.get(id);
    if (h) move(drag, h, to);
    return h ?? null;
  };

  return (
    <Sheet
      label={`Drawing of ${plan.name}: the finished top, and its strips on their slabs`}
      items={items}
      extent={extentOf(corners, 0)}
      extentKey={`${plan.id}/${report.slabs.length}`}
      handles={handles}
      chosen={view.handle.value}
      onChoose={(id) => {
        view.handle.value = id;
      }}
      onDrag={carry}
      onDrop={(id, to) => {
        if (carry(id, to)) void drag.drop(plan);
      }}
    />
  );
}

function heldJoints(placements: Computed['plan']['placements'], slabs: readonly LaidSlab[]): Map<string, Held> {
  const held = new Map<string, Held>();
  for (const placement of Object.values(placements)) {
    if (placement.strips.length !== 2) continue;
    placement.strips.forEach((strip, i) => {
      const laid = slabs.find(
        ({ slab }) => slab.flitch === strip.flitch && slab.slab === strip.slab && slab.face === strip.face,
      );
      if (!laid) return;
      for (const kind of ['move', 'turn'] as const) {
        held.set(`${kind}/${placement.top}/${i}`, { placement, side: i as 0 | 1, kind, shift: laid.shift });
      }
    });
  }
  return held;
}

function handlePlace({ placement, side, kind, shift }: Held): XY {
  const [a, b] = jointOf(placement.strips[side]!) as readonly [XY, XY];
  const t = kind === 'move' ? 0.5 : 0.5 + TURN_AT / 2;
  return [a[0] + t * (b[0] - a[0]) + shift[0], a[1] + t * (b[1] - a[1]) + shift[1]];
}

/** Where a handle was carried to, said as a move of the joint: square to it at its middle, or as a turn about its middle. */
function move(drag: JointDrag, { placement, side, kind, shift }: Held, to: XY): void {
  const [a, b] = jointOf(placement.strips[side]!) as readonly [XY, XY];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const [px, py] = [to[0] - shift[0] - (a[0] + b[0]) / 2, to[1] - shift[1] - (a[1] + b[1]) / 2];
  const across = ux * py - uy * px;
  const reach = (TURN_AT * length) / 2;
  const turn = kind === 'turn' ? (Math.atan2(across, reach) * 180) / Math.PI : 0;
  drag.move(placement, { side, by: kind === 'move' ? across : 0, turn, slide: 0 });
}
