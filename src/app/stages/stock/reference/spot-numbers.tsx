import { NumberField } from '../../../parts/fields';
import type { StockView } from '../view';
import { place } from './photo-sheet';
import { moveSpot, type PlacedSpot, removeSpot, spotsOf } from './spots';

/** The chosen spot on the photo by number, for those who do not point: where it is, and taking it out. */
export function SpotNumbers({ view }: { view: StockView }) {
  const spot = spotsOf(view.reference.value).find(({ id }) => id === view.handle.value);
  if (!spot) return null;
  const { id, px, says } = spot;
  const move = (to: PlacedSpot['px']) =>
    view.editReference('Move a spot on the photo', (draft) => moveSpot(draft, id, to));
  return (
    <fieldset class="group stack">
      <legend>{says[0]?.toUpperCase() + says.slice(1)}</legend>
      <div class="fields">
        <NumberField label="Photo right (pixels)" sign="any" value={px[0]} onChange={(u) => move([u, px[1]])} />
        <NumberField label="Photo down (pixels)" sign="any" value={px[1]} onChange={(v) => move([px[0], v])} />
      </div>
      <button
        type="button"
        class="button"
        onClick={() => view.editReference('Take out a spot on the photo', (draft) => removeSpot(draft, id))}
      >
        {id.includes('/end#') ? 'Take out this rod' : 'Take it out'}
      </button>
    </fieldset>
  );
}

/** Puts the next spot amid the photo, to be moved by keys or numbers. */
export function placeAmid(view: StockView): void {
  const photo = view.photo.peek();
  if (!photo) return;
  view.lookAt.value = 'photo';
  // Each a little beside the one before, so that none hides another.
  const shift = 40 * spotsOf(view.reference.peek()).length;
  place(view, [Math.round(photo.width / 2) + shift, Math.round(photo.height / 2)]);
}
