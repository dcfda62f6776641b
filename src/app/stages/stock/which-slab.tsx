import { useState } from 'preact/hooks';
import type { Point } from '../../../geometry';
import type { Photo } from '../../../job';
import { NumberField } from '../../parts/fields';
import { readPhoto } from './read-photos';
import type { StockView } from './view';

/** Takes the person's answer: the photo is read again by it, and keeps it. */
export async function chooseSlab(view: StockView, photo: Photo, at: Point<'photo'>): Promise<void> {
  const slab = view.place.peek()?.slab;
  if (!slab) return;
  view.choosing.value = null;
  view.editFace('Say which slab is meant', (face) => {
    const own = face.photos[photo.id];
    if (own) own.slabAt = at;
  });
  await readPhoto(view, { slabId: slab.id, face: view.faceName.peek(), photoId: photo.id });
}

/** Asks which of the slabs in a photo is meant, for who taps and for who types. */
export function WhichSlab({ view }: { view: StockView }) {
  const photo = view.photo.value;
  const [across, setAcross] = useState(50);
  const [down, setDown] = useState(25);
  if (!photo || view.choosing.value !== photo.id) return null;
  const choose = () => chooseSlab(view, photo, [(photo.width * across) / 100, (photo.height * down) / 100]);
  return (
    <section class="card stack" aria-label="Which slab is meant">
      <h2>Which slab is meant?</h2>
      <p>Tap the slab on the photo.</p>
      <details>
        <summary>Without tapping</summary>
        <div class="stack">
          <div class="fields">
            <NumberField label="From the left" unit="%" sign="zero" most={100} value={across} onChange={setAcross} />
            <NumberField label="From the top" unit="%" sign="zero" most={100} value={down} onChange={setDown} />
          </div>
          <button type="button" class="button" onClick={choose}>
            Read the slab that lies there
          </button>
        </div>
      </details>
    </section>
  );
}
