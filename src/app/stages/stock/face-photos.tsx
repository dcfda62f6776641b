import type { Face } from '../../../job';
import { askWhichSlab } from './ask-which-slab';
import { otherMeasured } from './join-photos';
import { readPhoto, takeOutPhoto, toNextSlab } from './read-photos';
import type { StockView } from './view';

/** The photos of a face that was shot in several. */
export function FacePhotos({ view, face }: { view: StockView; face: Face }) {
  const slab = view.place.value?.slab;
  const photos = Object.values(face.photos);
  const [measured] = otherMeasured(face, '');
  if (!slab) return null;
  const of = (photoId: string) => ({ slabId: slab.id, face: view.faceName.value, photoId });
  const lookAt = (photoId: string) => {
    view.letGo();
    view.photoId.value = photoId;
    view.lookAt.value = 'photo';
  };
  return (
    <section class="stack" aria-label="Photos of this face">
      <h3>Photos of this face</h3>
      <ol class="stack">
        {photos.map(({ id, width, height, calibration, slabAt }, i) => (
          <li key={id} class="stack">
            <p class="small">
              Photo {i + 1}{' '}
              <span class="soft">
                {width} × {height} pixels, {calibration ? 'part of this face' : 'not joined yet'}
              </span>
            </p>
            <div class="row">
              {!calibration && (
                <>
                  <button type="button" class="button main" onClick={() => readPhoto(view, of(id))}>
                    {measured ? `Join photo ${i + 1}` : `Read photo ${i + 1}`}
                  </button>
                  <button type="button" class="button" onClick={() => toNextSlab(view, of(id))}>
                    It shows another slab
                  </button>
                </>
              )}
              <button type="button" class="button" onClick={() => lookAt(id)}>
                Look at photo {i + 1}
              </button>
              {slabAt && (
                <button type="button" class="button" onClick={() => askWhichSlab(view, { id })}>
                  I meant another slab
                </button>
              )}
              <button type="button" class="button cut" onClick={() => takeOutPhoto(view, of(id))}>
                Take out photo {i + 1}
              </button>
            </div>
          </li>
        ))}
      </ol>
      {measured && (
        <button type="button" class="button" onClick={() => readPhoto(view, of(measured.id))}>
          Read the face again
        </button>
      )}
    </section>
  );
}
