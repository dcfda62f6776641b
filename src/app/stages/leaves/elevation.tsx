import { useMemo, useState } from 'preact/hooks';
import { announce } from '../../announce';
import type { Grip } from '../../canvas/gestures';
import type { Item, XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { cornersOf, extentOfFronts, frontAt, frontItems, type Standing, woodItems } from './elevation-items';
import type { LeafImages } from './leaf-images';
import type { SetView } from './set-view';

const NOTHING: readonly Item[] = [];

interface ElevationProps {
  view: SetView;
  all: readonly Standing[];
  images: LeafImages;
  /** Steps through the leaves of the chosen piece. */
  onStep(by: number): void;
}

/** The doors as one stands before them, of the leaves' own photos. A tap chooses a front and a piece; one front dragged onto another changes leaves with it. */
export function Elevation({ view, all, images, onStep }: ElevationProps) {
  const [dragged, setDragged] = useState<{ from: string; at: XY; to: string | null } | null>(null);
  const chosen = view.front.value;
  const cell = view.cell.value;
  const marked = view.marked.value;
  const side = view.side.value;
  const turned = side === 'back' ? chosen : null;
  const wood = useMemo(() => woodItems(all, images, turned), [all, images, turned]);
  const lines = useMemo(() => frontItems(all, { chosen, cell, marked, turned }), [all, chosen, cell, marked, turned]);
  const items = useMemo(() => [...wood, ...lines], [wood, lines]);
  const extent = useMemo(() => extentOfFronts(all), [all]);
  const moving = useMemo(() => (dragged ? draggedItems(all, dragged) : NOTHING), [dragged, all]);

  /** A front that is turned round changes its back alone. */
  const change = (one: string, other: string) => void view.swap(one, other, one === turned ? 'backs' : 'leaves');

  function grab(at: XY): Grip | null {
    const held = frontAt(all, at, turned);
    if (!held) return null;
    return {
      drag: (to) => {
        const under = frontAt(all, to, null)?.front ?? null;
        setDragged({ from: held.front, at: to, to: under === held.front ? null : under });
      },
      drop: (to) => {
        setDragged(null);
        const under = frontAt(all, to, null)?.front;
        if (under && under !== held.front) change(held.front, under);
      },
      tap: () => view.choose(held.front, held.cell, held.front === chosen ? side : 'face'),
    };
  }

  function step(by: number) {
    const place = all.findIndex(({ front }) => front.id === chosen);
    const next = all[place < 0 ? 0 : (place + by + all.length) % all.length];
    view.choose(next?.front.id ?? null);
    if (next) announce(`${next.front.door.name}, front ${next.laid?.number ?? ''}`);
  }

  function stepCell(by: number) {
    const laid = all.find(({ front }) => front.id === chosen)?.laid;
    const pieces = (side === 'face' ? laid?.pieces : laid?.back)?.length ?? 0;
    if (pieces > 0) view.choose(chosen, (cell + by + pieces) % pieces, side);
  }

  function mark() {
    if (!chosen) return;
    if (marked && marked !== chosen) void view.swap(marked, chosen, side === 'back' ? 'backs' : 'leaves');
    else view.marked.value = marked === chosen ? null : chosen;
  }
  const isLocked = () => all.find(({ front }) => front.id === chosen)?.laid?.locked ?? false;

  return (
    <Sheet
      label="Elevation of the doors"
      items={items}
      moving={moving}
      extent={extent}
      extentKey={`${all.length} fronts`}
      onGrab={grab}
      onCancel={() => setDragged(null)}
      onTap={() => view.choose(null)}
      keys={{
        n: () => step(1),
        p: () => step(-1),
        PageDown: () => step(1),
        PageUp: () => step(-1),
        ']': () => stepCell(1),
        '[': () => stepCell(-1),
        '.': () => onStep(1),
        ',': () => onStep(-1),
        x: mark,
        b: () => chosen && view.choose(chosen, 0, side === 'face' ? 'back' : 'face'),
        l: () => chosen && view.lock(chosen, !isLocked()),
        Escape: () => {
          view.marked.value = null;
          view.choose(null);
        },
      }}
      keysSay="N and P choose the next and previous front, square brackets a piece of it; full stop and comma lay the next and the previous leaf in the piece; X on one front and then on another has them change leaves; B turns the front round, so that all this is done to its back; L locks the front."
    />
  );
}

/** The front that is dragged, and the one that it would change with. */
function draggedItems(all: readonly Standing[], { from, at, to }: { from: string; at: XY; to: string | null }): Item[] {
  const held = all.find(({ front }) => front.id === from);
  const under = all.find(({ front }) => front.id === to);
  if (!held) return [];
  const { width, height } = held.front.door;
  const [x, y] = [at[0] - width / 2, at[1] - height / 2];
  const ghost: readonly XY[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  return [
    { kind: 'line', id: 'dragged', points: ghost, closed: true, pen: 'ahead' },
    ...(under
      ? [{ kind: 'line', id: 'under', points: cornersOf(under.front), closed: true, pen: 'chosen' } as const]
      : []),
  ];
}
