import { photoWork } from '../../work';
import { otherMeasured, photoOfFace } from './join-photos';
import { newReference } from './reference/reading';
import type { StockView } from './view';

/** Asks what new photos show; meanwhile the marks in the first of them are compared with those of the face's photos, or of the next. */
export async function askWhatTheyShow(view: StockView, files: readonly File[]): Promise<void> {
  const face = view.face.peek();
  const photos = otherMeasured(face, '');
  const asked = { files, measured: photos.length > 0 };
  view.arrivals.value = { ...asked, guess: null };
  const { scale } = newReference(view);
  const fresh = files.slice(0, asked.measured ? 1 : 2).map((file) => ({ file, name: file.name, scale }));
  const guess = await Promise.all(photos.map((photo) => photoOfFace(view, face, photo)))
    .then((known) =>
      photoWork.call(
        new AbortController().signal,
        () => {},
        (api, id, tell) => api.beside(id, [...known, ...fresh], tell),
      ),
    )
    // Where the marks do not tell, or are not found, it is most likely the next slab.
    .catch(() => false);
  if (view.arrivals.peek()?.files === files) view.arrivals.value = { ...asked, guess };
}
