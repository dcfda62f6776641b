import { useMemo } from 'preact/hooks';
import type { Point } from '../../../../geometry';
import { extentOf, type Handle, type Item, type XY } from '../../../canvas/items';
import { Sheet } from '../../../canvas/sheet';
import type { StockView } from '../view';

/** What each tap on the photo is, in their order; all further ones lie on the slab's edge. */
export const TAPS = ['one end of the known length', 'its other end', 'one end of the string', 'its other end'] as const;

/** A photo of a string before the slab's edge, with what was tapped on it. */
export function StringSheet({ view, title }: { view: StockView; title: string }) {
  const held = view.stringPhoto.value;
  const image = held?.image;
  const points = held?.points ?? [];
  const picture = useMemo(
    (): Item[] => (image ? [{ kind: 'picture', id: 'photo', image, map: [1, 0, 0, 1, -0.5, -0.5] }] : []),
    [image],
  );
  if (!image) return null;
  const line = (id: string, from: number, pen: 'measured' | 'ink'): Item[] => {
    const [a, b] = [points[from], points[from + 1]];
    return a && b ? [{ kind: 'line', id, points: [a, b], pen }] : [];
  };
  const items: Item[] = [
    ...picture,
    ...line('known', 0, 'measured'),
    ...line('string', 2, 'ink'),
    ...points.map(
      (at, i): Item => ({
        kind: 'spot',
        id: `p${i}`,
        at,
        pen: 'measured',
        text: i < 4 ? ('aabb'[i] as string) : String(i - 3),
      }),
    ),
  ];
  const handles: Handle[] = points.map((at, i) => ({ id: String(i), at }));
  const put = (next: readonly Point<'photo'>[]) => {
    view.stringPhoto.value = { image, points: next };
  };
  const move = (id: string, to: XY) => put(points.map((at, i) => (String(i) === id ? (to as Point<'photo'>) : at)));
  return (
    <Sheet
      label={`Photo of a string before the edge of ${title}`}
      items={items}
      extent={extentOf(
        [
          [0, 0],
          [image.naturalWidth, image.naturalHeight],
        ],
        0.01,
      )}
      extentKey={image.src}
      handles={handles}
      chosen={view.handle.value}
      onChoose={(id) => {
        view.handle.value = id;
      }}
      onDrag={move}
      onDrop={move}
      onPlace={(id, at) => {
        move(id, at);
        view.handle.value = null;
      }}
      foot={view.handle.value && <p class="drag-says">Tap where this point is to go, or drag it there.</p>}
      onTap={(at) => put([...points, at as Point<'photo'>])}
      onDelete={(id) => put(points.filter((_, i) => String(i) !== id))}
    />
  );
}
