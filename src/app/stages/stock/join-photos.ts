import type { JoinedPhotos, PhotoOfFace } from '../../../../workers/photo.worker';
import type { Face, Photo } from '../../../job';
import { recordShots } from '../../../plan';
import { announce } from '../../announce';
import { newId } from '../../jobs';
import { photoWork } from '../../work';
import { dropProposals, readingsOf, type Target, work } from './photo-work';
import type { StockView } from './view';

/** The photos of a face that it was measured from, but one. */
export function otherMeasured(face: Face | null, but: string): Photo[] {
  return Object.values(face?.photos ?? {}).filter(({ id, calibration }) => calibration && id !== but);
}

/** A stored photo as the worker takes it. */
export async function photoOfFace(
  view: StockView,
  { file, scale, calibration }: Photo,
  known?: Blob,
): Promise<PhotoOfFace> {
  const stored = known ?? (await view.store.file(file));
  if (!stored) throw new Error(`the photo ${file} is not stored`);
  return { file: stored, name: file, scale, before: calibration };
}

/**
 * Reads a face from several photos, as one step that can be undone. Where they cannot be joined, the face keeps what it had.
 * @param photos with the references that they are to be read by; the last may be at hand as a file
 * @returns whether they were read
 */
export async function joinPhotos(
  view: StockView,
  { slabId, face: faceName }: Target,
  photos: readonly Photo[],
  known?: Blob,
): Promise<boolean> {
  const readings = readingsOf(view.store.job.peek(), { slabId, face: faceName, photoId: '' });
  const read = await work(view, 'Joining the photos', async (signal, report) => {
    const shots = await Promise.all(
      photos.map((photo, i) => photoOfFace(view, photo, i === photos.length - 1 ? known : undefined)),
    );
    const joined = await photoWork.call(signal, report, (api, id, tell) => api.join(id, shots, readings, tell));
    const file = `faces/${slabId}-${faceName}-${newId()}.jpg`;
    await view.store.editWithFiles(new Map([[file, joined.picture]]), 'Join photos', (draft) => {
      const flitch = Object.values(draft.flitches).find(({ slabs }) => slabs[slabId]);
      const face = flitch?.slabs[slabId]?.faces[faceName];
      if (!flitch || !face) return;
      for (const { id, scale } of photos) {
        const photo = face.photos[id];
        if (!photo) return;
        photo.scale = scale;
        delete photo.draft;
      }
      dropProposals(face);
      const ids = photos.map(({ id }) => id);
      recordShots(draft, { flitch: flitch.id, slab: slabId, face: faceName }, ids, joined, { ...joined.place, file });
    });
    return joined;
  });
  if (!read) return false;
  view.lookAt.value = 'face';
  announce(summary(read));
  return true;
}

function summary({ joins, traced }: JoinedPhotos): string {
  const off = Math.max(...joins.map(({ marks }) => marks));
  const moved = [...new Set(joins.flatMap((join) => join.moved))];
  const left = moved.length > 0 ? ` Moved between the shots, and left out: ${moved.join(', ')}.` : '';
  const cut = traced.cutOff.length > 0 ? ` The slab runs out of the picture (${traced.cutOff.join(', ')}).` : '';
  const count = joins.length + 1;
  return `${count} photos joined: their marks lie on each other within ${Math.max(0.1, off).toFixed(1)} mm.${left}${cut}`;
}
