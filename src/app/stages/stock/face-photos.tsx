import type { Face } from '../../../job';
import { readPhoto, takeOutPhoto } from './read-photos';
import type { StockView } from './view';

/** The photos of a face that was shot in several. */
export function FacePhotos({ view, face }: { view: StockView; face: Face }) {
  const slab = view.place.value?.slab;
  const photos = Object.values(face.photos);
  if (!slab) return null;
  return (
    <section class="stack" aria-label="Photos of this face">
      <h3>Photos of this face</h3>
      <ol class="stack">
        {photos.map(({ id, width, height, calibration }, i) => {
          const target = { slabId: slab.id, face: view.faceName.value, photoId: id };
          return (
            <li key={id} class="stack">
              <p class="small">
                Photo {i + 1}{' '}
                <span class="soft">
                  {width} × {height} pixels, {calibration ? 'part of this face' : 'not joined yet'}
                </span>
              </p>
              <div class="row">
                <button type="button" class="button" onClick={() => readPhoto(view, target)}>
                  {calibration ? 'Read it again' : 'Join it'}
                </button>
                <button type="button" class="button cut" onClick={() => takeOutPhoto(view, target)}>
                  Take it out
                </button>
              </div>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
