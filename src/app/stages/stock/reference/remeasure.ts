import type { Face, Photo, Scale } from '../../../../job';
import { recordRemeasure } from '../../../../plan';
import { announce } from '../../../announce';
import { newId } from '../../../jobs';
import { photoWork } from '../../../work';
import { AS_IT_WAS, readingsOf, work } from '../photo-work';
import { readPhoto } from '../read-photos';
import type { StockView } from '../view';
import { afterReading, scaleToRead } from './reading';

/** A measured photo measured again by what was added to its reference, at once and as one step. */

/**
 * Measures the photo in view again by `scale`. A face of one photo is not traced anew: what was traced or drawn moves to where its spots of
 * the photo now lie. A face put together of several photos is read again.
 * @returns whether it was measured; what stopped it then stands in the view
 */
export async function measureAgain(view: StockView, photo: Photo, scale: Scale, step: string): Promise<boolean> {
  return remeasured(view, photo, scale, step, false);
}

/** Whether measuring a photo by what was typed reads all of it: where another thing lies on the slab, or the face has several photos. */
export function tracesAnew(view: StockView, photo: Photo): boolean {
  const face = view.face.peek();
  return !photo.calibration || !face || measuredPhotos(face) > 1 || view.reference.peek().kind !== photo.scale.kind;
}

/** Measures the photo in view by what was typed of its reference. */
export async function measureByDraft(view: StockView, photo: Photo): Promise<boolean> {
  const place = view.place.peek();
  if (!place || view.reading.peek()) return false;
  const target = { slabId: place.slab.id, face: view.faceName.peek(), photoId: photo.id };
  if (tracesAnew(view, photo)) return readPhoto(view, target);
  return remeasured(view, photo, await scaleToRead(view, photo), 'Measure again', true);
}

async function remeasured(
  view: StockView,
  photo: Photo,
  scale: Scale,
  step: string,
  byDraft: boolean,
): Promise<boolean> {
  const place = view.place.peek();
  const face = view.face.peek();
  if (!place || !face || view.reading.peek()) return false;
  const target = { slabId: place.slab.id, face: view.faceName.peek(), photoId: photo.id };
  const { picture } = face;
  if (!picture || !photo.calibration || measuredPhotos(face) > 1) return readPhoto(view, target, { scale });
  const before = photo.calibration;
  const readings = readingsOf(view.store.job.peek(), target);
  const { x0, y0, mmPerPx, width, height } = picture;
  const part = { minX: x0, minY: y0, maxX: x0 + width * mmPerPx, maxY: y0 + height * mmPerPx };
  const read = await work(view, 'Measuring again', AS_IT_WAS, async (signal, report) => {
    const file = await view.store.file(photo.file);
    if (!file) throw new Error(`the photo ${photo.file} is not stored`);
    return photoWork.call(signal, report, (api, id, tell) =>
      api.remeasure(id, file, photo.file, scale, { readings, before, part, mmPerPx }, tell),
    );
  });
  if (!read) return false;
  const kept = await work(view, 'Keeping the picture', AS_IT_WAS, async () => {
    const name = `faces/${target.slabId}-${target.face}-${newId()}.jpg`;
    await view.store.editWithFiles(new Map([[name, read.picture]]), step, (draft) => {
      const own = draft.flitches[place.flitch.id]?.slabs[target.slabId]?.faces[target.face].photos[photo.id];
      if (own) own.scale = scale;
      if (own && byDraft) delete own.draft;
      const where = { flitch: place.flitch.id, slab: target.slabId, face: target.face, photo: photo.id };
      recordRemeasure(draft, where, read.calibration, { ...read.place, file: name });
    });
    return true;
  });
  if (!kept) return false;
  announce('Measured again. The outline and all that is drawn kept to their spots on the photo.');
  if (byDraft) await afterReading(view, photo, scale, read.calibration);
  return true;
}

/** Photos that a face was measured from. */
export const measuredPhotos = ({ photos }: Face): number =>
  Object.values(photos).filter(({ calibration }) => calibration).length;
