import { useMemo, useState } from 'preact/hooks';
import { type Front, frontsOf } from '../../../leaves';
import { formatLength } from '../../../units';
import type { Grip } from '../../canvas/gestures';
import { extentOf, type Handle, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import type { JobStore } from '../../store';
import { overlapping, placesOf, snapped, USUAL_GAP } from './door-places';

/** A front is drawn to a neighbour's edge from so far, px. */
const REACH = 8;

/** The wanted fronts as one stands before them, each to be dragged to its place; by keys its corner is chosen and moved. */
export function DoorSheet({ store }: { store: JobStore }) {
  const units = useUnits();
  const { doors } = store.job.value;
  const [chosen, setChosen] = useState<string | null>(null);
  const [dragged, setDragged] = useState<{ id: string; at: XY } | null>(null);
  const fronts = useMemo(() => frontsOf(Object.values(doors)), [doors]);
  const shown = fronts.map((front) => (front.id === dragged?.id ? { ...front, at: dragged.at } : front));
  const over = overlapping(shown);
  const items = shown.flatMap((front, i) =>
    frontItems(front, i + 1, over.has(front.id), (mm) => formatLength(mm, units)),
  );
  const handles: Handle[] = shown.map(({ id, at }) => ({ id, at }));
  const corners = fronts.flatMap(({ at: [x, y], door }): XY[] => [
    [x, y],
    [x + door.width, y + door.height],
  ]);

  function put(front: Front, to: XY) {
    store.edit(`Place of ${front.door.name}`, (draft) => {
      const own = draft.doors[front.door.id];
      if (!own) return;
      own.at = placesOf(Object.values(doors), front.door.id).map((at, i) => (i === front.copy - 1 ? to : at));
    });
  }
  const frontAt = ([x, y]: XY): Front | undefined =>
    fronts.find(({ at, door }) => x >= at[0] && y >= at[1] && x <= at[0] + door.width && y <= at[1] + door.height);
  function grab(at: XY, perPx: number): Grip | null {
    const front = frontAt(at);
    if (!front) return null;
    const off: XY = [front.at[0] - at[0], front.at[1] - at[1]];
    const place = (to: XY) => snapped(fronts, front, [to[0] + off[0], to[1] + off[1]], USUAL_GAP, REACH * perPx);
    return {
      drag: (to) => setDragged({ id: front.id, at: place(to) }),
      drop: (to) => {
        setDragged(null);
        put(front, place(to));
      },
      tap: () => setChosen(front.id),
    };
  }

  return (
    <Sheet
      label="Elevation of the wanted fronts"
      items={items}
      extent={extentOf(corners, 0.06)}
      extentKey={JSON.stringify(fronts.map(({ door: { id, width, height, count } }) => [id, width, height, count]))}
      handles={handles}
      chosen={chosen}
      onChoose={setChosen}
      onGrab={grab}
      onCancel={() => setDragged(null)}
      onDrop={(id, to) => {
        const front = fronts.find((one) => one.id === id);
        if (front) put(front, [Math.round(to[0]), Math.round(to[1])]);
      }}
    />
  );
}

/** A front lower than this is a drawer's, mm. */
const LOW = 250;
/** Where its number and the grain's line stand on a front, as shares of its width, and its size, as one of its height. */
const ONE_OVER_OTHER = { number: 0.5, grain: 0.5, size: 0.9 };
const SIDE_BY_SIDE = { number: 0.14, grain: 0.88, size: 0.5 };

function frontItems(
  { id, at: [x, y], door }: Front,
  number: number,
  over: boolean,
  say: (mm: number) => string,
): Item[] {
  const { width, height, frame } = door;
  const at = height < LOW ? SIDE_BY_SIDE : ONE_OVER_OTHER;
  const box = (left: number, top: number, right: number, foot: number): XY[] => [
    [left, top],
    [right, top],
    [right, foot],
    [left, foot],
  ];
  const edge = box(x, y, x + width, y + height);
  const sight =
    frame && box(x + frame.stile, y + frame.topRail, x + width - frame.stile, y + height - frame.bottomRail);
  return [
    { kind: 'area', id: `front-${id}`, points: edge, hatch: over ? 'plain' : 'none', pen: over ? 'cut' : 'ink' },
    ...(sight ? [{ kind: 'line', id: `sight-${id}`, points: sight, closed: true, pen: 'ink' } as const] : []),
    ...door.covered.map(
      (zone, i): Item => ({
        kind: 'area',
        id: `covered-${id}-${i}`,
        points: zone.map(([u, v]) => [x + u, y + v] as const),
        hatch: 'covered',
        pen: 'faint',
      }),
    ),
    // The grain of a front runs up its height.
    {
      kind: 'line',
      id: `grain-${id}`,
      points: [
        [x + at.grain * width, y + 0.3 * height],
        [x + at.grain * width, y + 0.7 * height],
      ],
      pen: 'fine',
    },
    {
      kind: 'text',
      id: `number-${id}`,
      at: [x + at.number * width, y + height / 2],
      text: String(number),
      pen: 'ink',
      shape: 'box',
    },
    {
      kind: 'text',
      id: `size-${id}`,
      at: [x + width / 2, y + at.size * height],
      text: `${say(width)} × ${say(height)}`,
      pen: 'measured',
      shape: 'bare',
      yields: 1,
    },
  ];
}
