import { centroid, contains } from '../../../../geometry';
import { announce } from '../../../announce';
import type { Item, XY } from '../../../canvas/items';
import { Sheet } from '../../../canvas/sheet';
import { usePhotoPicture } from '../photo-picture';
import type { StockView } from '../view';
import type { LeafShot } from './leaf-shots';
import { setOrder } from './shot-panel';

interface ShotSheetProps {
  view: StockView;
  shot: LeafShot;
}

/** A photo of leaves with their outlines and numbers. A tap looks at a leaf, or takes it as the next in order. */
export function ShotSheet({ view, shot }: ShotSheetProps) {
  const { photo, leaves } = shot;
  const tapped = view.tapped.value;
  const { extent, picture } = usePhotoPicture(view.store, photo);
  const chosen = view.handle.value;
  const items = leaves.flatMap(({ leaf, ring }): Item[] => {
    const next = tapped ? tapped.indexOf(leaf.id) : -1;
    const words = tapped ? (next < 0 ? '?' : String(next + 1)) : String(leaf.place);
    const pen = chosen === leaf.id ? 'chosen' : 'ink';
    return [
      { kind: 'line', id: `ring-${leaf.id}`, points: ring, closed: true, pen },
      { kind: 'text', id: `number-${leaf.id}`, at: centroid(ring), text: words, pen, shape: 'ring' },
    ];
  });
  function take(id: string | null) {
    if (id === null) return;
    if (!tapped) {
      view.lookAtBoards({ leaf: id, face: shot.face });
      return;
    }
    if (tapped.includes(id)) return;
    const next = [...tapped, id];
    if (next.length < leaves.length) view.tapped.value = next;
    else {
      setOrder(view, shot, next);
      view.tapped.value = null;
    }
  }
  function step(by: number) {
    const place = leaves.findIndex(({ leaf }) => leaf.id === chosen);
    const next = place < 0 ? 0 : (place + by + leaves.length) % leaves.length;
    view.handle.value = leaves[next]?.leaf.id ?? null;
    announce(`Leaf ${leaves[next]?.leaf.place ?? ''} is chosen.`);
  }
  const under = (at: XY) => leaves.find(({ ring }) => contains(ring, at))?.leaf.id ?? null;
  return (
    <Sheet
      label="Photo of leaves"
      items={[...picture, ...items]}
      extent={extent}
      extentKey={`${shot.file}/${picture.length > 0 ? 'photo' : ''}`}
      onTap={(at) => take(under(at))}
      keys={{
        n: () => step(1),
        p: () => step(-1),
        PageDown: () => step(1),
        PageUp: () => step(-1),
        Enter: () => take(view.handle.peek()),
      }}
      keysSay={`N and P choose the next and previous leaf; Enter ${tapped ? 'takes it as the next in order' : 'looks at it'}.`}
    />
  );
}
