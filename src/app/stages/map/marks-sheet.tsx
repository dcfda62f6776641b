import { useMemo } from 'preact/hooks';
import { distance, type Point } from '../../../geometry';
import { extentOf, type Handle, type Item, type XY } from '../../canvas/items';
import { Sheet } from '../../canvas/sheet';
import { useUnits } from '../../parts/job-context';
import { useImage } from '../../parts/use-image';
import { faceItems } from '../stock/face-items';
import { type Marks, type MarksProps, marksView, setMarks } from './marked-slab';
import { lengthWords } from './tape-words';

const NAMES = ['A', 'B'] as const;

/** The slab with its chalk line, its two marks to take hold of, and every point that is taped. */
export function MarksSheet({ store, marked, measures, troubles }: MarksProps) {
  const units = useUnits();
  const view = marksView(store);
  const { own, measured, slab, key } = marked;
  const image = useImage(store, own.picture?.file ?? null);
  const ground = useMemo((): Item[] => {
    const items: Item[] = [];
    if (image && own.picture) {
      const { mmPerPx, x0, y0 } = own.picture;
      items.push({ kind: 'picture', id: 'photo', image, map: [mmPerPx, 0, 0, mmPerPx, x0, y0], strength: 0.75 });
    }
    items.push(...faceItems(own));
    for (const { finished } of measured.blanks)
      items.push({ kind: 'line', id: `finished-${items.length}`, points: finished, closed: true, pen: 'cut' });
    for (const { number, line, stage } of measured.cuts)
      if (stage === 'rough') items.push({ kind: 'line', id: `cut-${number}`, points: line, pen: 'rough' });
    for (const { jointFront, jointBack } of measured.blanks)
      for (const line of [jointFront, jointBack])
        if (line) items.push({ kind: 'line', id: `joint-${items.length}`, points: line, pen: 'joint' });
    return items;
  }, [image, own, measured]);
  const marks = measures?.datum ?? null;
  const lines = useMemo((): Item[] => {
    if (!measures || !marks) return [];
    const items: Item[] = [{ kind: 'line', id: 'chalk', points: marks, pen: 'measured' }];
    for (const { label, kind, at } of measures.points) {
      if (kind === 'key') continue;
      items.push({ kind: 'spot', id: `spot-${label}`, at, pen: 'measured' });
      items.push({ kind: 'text', id: `label-${label}`, at, text: label, pen: 'ink', shape: 'box', yields: 1 });
    }
    marks.forEach((at, i) => {
      items.push({
        kind: 'text',
        id: `mark-${i}`,
        at: beside(at, marks[1 - i]),
        text: NAMES[i] as string,
        pen: 'chosen',
        shape: 'ring',
      });
    });
    return items;
  }, [measures, marks]);
  const items = useMemo(() => [...ground, ...lines], [ground, lines]);
  const handles = useMemo((): Handle[] => (marks ?? []).map((at, i) => ({ id: NAMES[i] as string, at })), [marks]);
  const with_ = (id: string, [x, y]: XY): Marks | null =>
    marks && (id === 'A' ? [[x, y], marks[1]] : [marks[0], [x, y]]);
  const put = (id: string, to: XY) => {
    const next = with_(id, to);
    view.dragged.value = null;
    if (next) setMarks(store, marked, `Set mark ${id}`, next);
  };
  const apart = marks ? `${lengthWords(distance(...marks), units)} apart` : '';
  const bad = troubles.find((trouble) => trouble.bad);
  return (
    <Sheet
      label={`${slab.name} with its marks A and B${apart && `, ${apart}`}`}
      items={items}
      extent={extentOf(measured.outline.outer)}
      extentKey={key}
      handles={handles}
      chosen={view.chosen.value}
      onChoose={(id) => {
        view.chosen.value = id;
      }}
      onDrag={(id, to) => {
        view.dragged.value = with_(id, to);
      }}
      onDrop={put}
      onCancel={() => {
        view.dragged.value = null;
      }}
      foot={
        view.dragged.value && (
          <p class={bad ? 'drag-says miss' : 'drag-says'}>{bad?.words ?? `A and B lie ${apart}.`}</p>
        )
      }
      onPlace={put}
    />
  );
}

/** A letter stands outside its mark, in the line of the chalk. */
function beside([x, y]: Point<'face'>, other: Point<'face'> | undefined): XY {
  const [dx, dy] = [x - (other?.[0] ?? 0), y - (other?.[1] ?? 0)];
  const length = Math.hypot(dx, dy) || 1;
  const room = 0.035 * length;
  return [x + (room * dx) / length, y + (room * dy) / length];
}
