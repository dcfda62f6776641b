import { useMemo } from 'preact/hooks';
import { bounds } from '../../../geometry';
import { faceKey, type Placement, type Plan } from '../../../job';
import { extentOf, type Handle, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import { useNarrow } from '../../parts/use-narrow';
import type { Computed, PlanView } from '../../plan-view';
import { arranged, paneShape } from './arranged';
import { DragSays } from './drag-says';
import { type JointDrag, jointDrag } from './joint-drag';
import { layoutLook } from './look';
import { PaneSwitch } from './pane-switch';
import { jointItems, jointOf, type LaidSlab, laidOf, slabItems } from './slab-items';
import type { FaceLooks } from './wood';

/** Room around the slabs for what is written beside them, as a share of the sheet. */
const ROUND = 0.04;

const NOTHING: readonly Item[] = [];
/** Between slabs, mm. */
const GAP = 150;
/** How far from the joint's middle the handles sit that turn it and slide its slab, as a share of half its length. */
const ASIDE = 0.8;

const KINDS = ['move', 'turn', 'slide'] as const;
type Kind = (typeof KINDS)[number];
/** Where along the joint line each handle sits. */
const AT: Readonly<Record<Kind, number>> = { move: 0.5, turn: 0.5 + ASIDE / 2, slide: 0.5 - ASIDE / 2 };
const SIGNS: Readonly<Record<Kind, string>> = { move: '↕', turn: '↻', slide: '↔' };

interface Held {
  readonly placement: Placement;
  readonly side: 0 | 1;
  readonly kind: Kind;
  readonly shift: XY;
}

/** The slabs with their strips, cuts and offcuts. The joint lines can be moved, turned and slid by dragging, or by keys. */
export function SlabPane({ view, computed, looks }: { view: PlanView; computed: Computed; looks: FaceLooks }) {
  const units = useUnits();
  const { plan, report } = computed;
  const job = view.store.job.value;
  const drag = jointDrag(view);
  const look = layoutLook(view);
  const narrow = useNarrow();

  const { ground, slabs, corners } = useMemo(() => {
    const boxes = report.slabs.map(({ outline }) => bounds(outline.outer));
    const sizes = boxes.map(({ minX, maxX, minY, maxY }): XY => [maxX - minX, maxY - minY]);
    const { places, width, height } = arranged(sizes, paneShape(narrow), GAP);
    const laid = report.slabs.flatMap((slab, i): LaidSlab[] => {
      const face = job.flitches[slab.flitch]?.slabs[slab.slab]?.faces[slab.face];
      const [box, place] = [boxes[i], places[i]];
      if (!face || !box || !place) return [];
      const shift: XY = [place[0] - box.minX, place[1] - box.minY];
      const image = looks.get(faceKey(slab.flitch, slab.slab, slab.face))?.image ?? null;
      return [{ slab, face, image, shift }];
    });
    const ends: XY[] = [
      [-60, -90],
      [width + 60, height + 50],
    ];
    return { ground: laid.flatMap((slab) => slabItems(slab, units)), slabs: laid, corners: ends };
  }, [report, looks, units, narrow]);

  const held = useMemo(() => heldJoints(plan.placements, slabs), [plan, slabs]);
  const handles = useMemo((): Handle[] => [...held].map(([id, h]) => ({ id, at: handlePlace(h) })), [held]);
  const signs = useMemo(
    (): Item[] =>
      [...held].map(([id, h]) => ({
        kind: 'text',
        id: `sign-${id}`,
        at: signPlace(h),
        text: SIGNS[h.kind],
        pen: 'measured',
        shape: 'bare',
      })),
    [held],
  );

  const dragged = view.dragged.value;
  const items = useMemo((): Item[] => {
    const lines = Object.values(plan.placements).flatMap((placement) => jointItems(placement, slabs, 'joint'));
    return [...ground, ...lines, ...signs];
  }, [ground, slabs, plan, signs]);
  const moving = useMemo((): readonly Item[] => {
    if (!dragged) return NOTHING;
    const sound = dragged.faults.length === 0;
    const moved = [dragged, ...dragged.others].flatMap(({ placement }) =>
      jointItems(placement, slabs, sound ? 'chosen' : 'broken'),
    );
    return sound ? moved : [...moved, ...notHere(moved)];
  }, [slabs, dragged]);

  const carry = (id: string, to: XY): Held | null => {
    const h = held.get(id);
    if (h) move(drag, plan, h, to);
    return h ?? null;
  };

  return (
    <Sheet
      label={`Drawing of the slabs of ${plan.name}, with their strips, cuts and offcuts`}
      items={items}
      moving={moving}
      extent={extentOf(corners, ROUND)}
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
      onCancel={() => void drag.cancel()}
      keys={{ s: () => look.toggleMarks() }}
      keysSay="Of each joint line the middle point moves it, the one to its end turns it, the one to its beginning slides the slab along. S shows and hides the seam on the finished top."
      foot={
        <>
          <DragSays view={view} />
          <PaneSwitch look={look} />
        </>
      }
    />
  );
}

/** Says at a joint line that it cannot be sawn there; what is broken stands beside the drawing. */
const notHere = (lines: readonly Item[]): Item[] =>
  lines.flatMap((line): Item[] => {
    if (line.kind !== 'line') return [];
    const [a, b] = line.points as readonly [XY, XY];
    const at: XY = [a[0] + 0.3 * (b[0] - a[0]), a[1] + 0.3 * (b[1] - a[1])];
    return [{ kind: 'text', id: `${line.id}-not`, at, text: 'cannot be sawn', pen: 'cut', shape: 'box' }];
  });

function heldJoints(placements: Computed['plan']['placements'], slabs: readonly LaidSlab[]): Map<string, Held> {
  const held = new Map<string, Held>();
  for (const placement of Object.values(placements)) {
    if (placement.strips.length !== 2) continue;
    placement.strips.forEach((strip, i) => {
      const laid = laidOf(strip, slabs);
      if (!laid) return;
      for (const kind of KINDS) {
        held.set(`${kind}/${placement.top}/${i}`, { placement, side: i as 0 | 1, kind, shift: laid.shift });
      }
    });
  }
  return held;
}

const ends = ({ placement, side }: Held): readonly [XY, XY] => jointOf(placement.strips[side]!) as readonly [XY, XY];

function handlePlace(h: Held): XY {
  const [a, b] = ends(h);
  const t = AT[h.kind];
  return [a[0] + t * (b[0] - a[0]) + h.shift[0], a[1] + t * (b[1] - a[1]) + h.shift[1]];
}

/** Beside the handle, off the joint on the waste's side. */
function signPlace(h: Held): XY {
  const [a, b] = ends(h);
  const [x, y] = handlePlace(h);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const off = (h.side === 0 ? 55 : -55) / length;
  return [x - off * (b[1] - a[1]), y + off * (b[0] - a[0])];
}

/** Where a handle was carried to, said as a move of the joint: square to it, as a turn about its middle, or along it. */
function move(drag: JointDrag, plan: Plan, h: Held, to: XY): void {
  const { placement, side, kind } = h;
  const [a, b] = ends(h);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const from = handlePlace(h);
  const [px, py] = [to[0] - from[0], to[1] - from[1]];
  const [along, across] = [ux * px + uy * py, ux * py - uy * px];
  drag.move(plan, placement, {
    side,
    by: kind === 'move' ? across : 0,
    turn: kind === 'turn' ? (Math.atan2(across, (ASIDE * length) / 2 + along) * 180) / Math.PI : 0,
    slide: kind === 'slide' ? along : 0,
  });
}
