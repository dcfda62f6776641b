import { photoWork } from '../../work';
import { otherMeasured, photoOfFace } from './join-photos';
import { newReference } from './reference/reading';
import type { StockView } from './view';

/** Asks what new photos show; meanwhile the marks in the first of them are compared with those of the face's photos. */
export async function askWhatTheyShow(view: StockView, files: readonly File[]): Promise<void> {
  view.arrivals.value = { files, guess: null };
  const [file] = files;
  const photos = otherMeasured(view.face.peek(), '');
  const { scale } = newReference(view);
  const guess = await Promise.all(photos.map((photo) => photoOfFace(view, photo)))
    .then((known) =>
      photoWork.call(
        new AbortController().signal,
        () => {},
        (api, id, tell) => api.beside(id, [...known, { file: file as File, name: file?.name ?? '', scale }], tell),
      ),
    )
    // Where the marks do not tell, or are not found, it is most likely the next slab.
    .catch(() => false);
  const asked = view.arrivals.peek();
  if (asked?.files === files) view.arrivals.value = { files, guess };
}
