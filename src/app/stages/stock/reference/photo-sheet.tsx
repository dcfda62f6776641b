import { useMemo, useState } from 'preact/hooks';
import type { Photo } from '../../../../job';
import type { Handle, Item, XY } from '../../../canvas/items';
import { Sheet } from '../../../canvas/sheet';
import { usePhotoPicture } from '../photo-picture';
import type { StockView } from '../view';
import { whichSlabHand } from '../which-slab';
import { moveSpot, type PlacedSpot, placeSpot, removeSpot, spotsOf, tapId, tenths } from './spots';
import { addTapeEnd, isTapeEnd, moveTapeEnd, tapeEnds, tapeItems } from './tape-hand';

/** A photo as it was taken, in pixels, with what was clicked on it: known points, rods, tape checks. */
export function PhotoSheet({ view, photo, title }: { view: StockView; photo: Photo; title: string }) {
  const { extent, picture } = usePhotoPicture(view.store, photo);
  const reference = view.reference.value;
  const moving = view.moving.value;
  const placing = view.panel.value === 'photo';
  const spots = useMemo(() => spotsOf(reference), [reference]);
  const ends = tapeEnds(view, photo);
  const shown = [...spots, ...ends].map((spot) => (moving?.id === spot.id ? { ...spot, px: moving.to } : spot));
  const tapes = tapeItems(view, photo, (px) => px);

  /** What was tapped on to be moved: the spot that was placed last is chosen too, but there a tap places the next one. */
  const [picked, pick] = useState<string | null>(null);
  const put = (id: string, to: XY) => {
    view.moving.value = null;
    pick(null);
    if (isTapeEnd(id)) moveTapeEnd(view, photo, id, tenths(to));
    else view.editReference('Move a spot on the photo', (draft) => moveSpot(draft, id, tenths(to)));
  };

  const which = whichSlabHand(view, photo);
  const items: Item[] = [...picture, ...rodLines(shown), ...tapes, ...shown.map(spotItem), ...(which?.items ?? [])];
  // Marks and corners lie close to the ends of their rod: while they are tapped, nothing else is taken hold of.
  const handles: Handle[] = placing && !view.aim.value && !which ? shown.map(({ id, px }) => ({ id, at: px })) : [];

  return (
    <Sheet
      label={`Photo of ${title}`}
      items={items}
      extent={extent}
      extentKey={`${photo.id}/${picture.length > 0 ? 'photo' : ''}`}
      handles={handles}
      chosen={view.handle.value}
      onChoose={(id) => {
        view.handle.value = id;
        pick(id);
      }}
      onDrag={(id, to) => {
        view.moving.value = { id, to: tenths(to) };
      }}
      onDrop={put}
      {...(picked !== null &&
        picked === view.handle.value &&
        handles.some(({ id }) => id === picked) && {
          onPlace: put,
          foot: <p class="drag-says">Tap where this is to go, or drag it there.</p>,
        })}
      onTap={(at) => {
        const inside = at[0] >= 0 && at[1] >= 0 && at[0] < photo.width && at[1] < photo.height;
        if (!placing || !inside) return;
        if (which) which.choose(tenths(at));
        else if (view.tape.value) addTapeEnd(view, photo, tenths(at));
        else place(view, tenths(at));
      }}
      onDelete={(id) => {
        if (!isTapeEnd(id)) view.editReference('Take out a spot on the photo', (draft) => removeSpot(draft, id));
      }}
      {...(which && { keys: which.keys, keysSay: which.keysSay })}
    />
  );
}

/** Puts the next spot of the reference on the photo in view. */
export function place(view: StockView, at: readonly [number, number]): void {
  const { kind } = view.reference.peek();
  if (kind === 'markers' || kind === 'paper') return;
  let id: string | null = null;
  view.editReference('Place a spot on the photo', (draft) => {
    id = placeSpot(draft, view.aim.peek(), at);
  });
  if (id !== null) view.handle.value = id;
  const { aim } = view;
  if (aim.value?.part === 'corner' && view.reference.peek().rods[aim.value.rod]?.corners.length === 4) aim.value = null;
}

const spotItem = ({ id, px, text }: PlacedSpot): Item => ({
  kind: 'spot',
  id: `at-${id}`,
  at: px,
  pen: 'measured',
  text,
});

/** A line along every rod and every taped measure whose two ends are placed. */
function rodLines(spots: readonly PlacedSpot[]): Item[] {
  return spots.flatMap(({ id, px }): Item[] => {
    const second = otherEnd(id);
    const other = second && spots.find((spot) => spot.id === second);
    return other ? [{ kind: 'line', id: `line-${id}`, points: [px, other.px], pen: 'measured' }] : [];
  });
}

/** The spot at the other end of what begins at this one; null where nothing does. */
function otherEnd(id: string): string | null {
  if (id.endsWith('/end#0')) return id.replace('/end#0', '/end#1');
  const tap = /^tap#(\d+)$/.exec(id);
  return tap && Number(tap[1]) % 2 === 0 ? tapId(Number(tap[1]) + 1) : null;
}
