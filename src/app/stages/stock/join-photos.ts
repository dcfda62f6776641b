import type { JoinedPhotos, PhotoOfFace } from '../../../../workers/photo.worker';
import type { Face, FaceName, Job, Photo } from '../../../job';
import { strokesOnPhotos } from '../../../photo';
import { recordShots } from '../../../plan';
import { announce } from '../../announce';
import { newId } from '../../jobs';
import { photoWork } from '../../work';
import { dropProposals, readingsOf, stepOf, stoppedSays, type Target, work } from './photo-work';
import { afterReading } from './reference/reading';
import type { StockView } from './view';

/** The photos of a face that it was measured from, but one, and but those that the slab's own measures told: they make way for any other. */
export function otherMeasured(face: Face | null, but: string): Photo[] {
  return Object.values(face?.photos ?? {}).filter(
    ({ id, calibration, scale }) => calibration && id !== but && scale.kind !== 'slab',
  );
}

/** A stored photo as the worker takes it, by the name that the person knows it by. */
export async function photoOfFace(
  view: StockView,
  face: Face | null,
  { id, file, scale, calibration }: Photo,
  known?: Blob,
): Promise<PhotoOfFace> {
  const stored = known ?? (await view.store.file(file));
  if (!stored) throw new Error(`the photo ${file} is not stored`);
  return { file: stored, name: `Photo ${1 + Object.keys(face?.photos ?? {}).indexOf(id)}`, scale, before: calibration };
}

/** Keeps with a photo (of a draft) what it was read by. */
export function readBy(photo: Photo, { scale, slabAt }: Pick<Photo, 'scale' | 'slabAt'>): void {
  photo.scale = scale;
  if (slabAt) photo.slabAt = slabAt;
  delete photo.draft;
}

/**
 * Reads a face from several photos, as one step that can be undone. Where they cannot be joined, the face keeps what it had.
 * @param photos with the references that they are to be read by; the last may be at hand as a file
 * @param without a photo of the face that is taken out of it in the same step
 * @returns whether they were read
 */
export async function joinPhotos(
  view: StockView,
  { slabId, face: faceName }: Target,
  photos: readonly Photo[],
  { known, without }: { known?: Blob; without?: string },
): Promise<boolean> {
  const readings = readingsOf(view.store.job.peek(), { slabId, face: faceName, photoId: '' });
  const stopped = stoppedSays('The photos are not joined', without);
  const read = await work(view, 'Joining the photos', stopped, async (signal, report) => {
    const face = faceOf(view.store.job.peek(), slabId, faceName);
    const strokes = strokesOnPhotos(photos, face?.strokes ?? []);
    const shots = await Promise.all(
      photos.map(async (photo, i) => ({
        ...(await photoOfFace(view, face, photo, i === photos.length - 1 ? known : undefined)),
        strokes: strokes[i] ?? [],
      })),
    );
    const joined = await photoWork.call(signal, report, (api, id, tell) => api.join(id, shots, readings, tell));
    const file = `faces/${slabId}-${faceName}-${newId()}.jpg`;
    await view.store.editWithFiles(new Map([[file, joined.picture]]), stepOf('Join photos', without), (draft) => {
      const flitch = flitchOf(draft, slabId);
      const face = faceOf(draft, slabId, faceName);
      if (!flitch || !face) return;
      for (const by of photos) {
        const photo = face.photos[by.id];
        if (!photo) return;
        readBy(photo, by);
      }
      if (without) delete face.photos[without];
      dropProposals(face);
      const ids = photos.map(({ id }) => id);
      recordShots(draft, { flitch: flitch.id, slab: slabId, face: faceName }, ids, joined, { ...joined.place, file });
    });
    return joined;
  });
  if (!read) return false;
  view.photoId.value = null;
  announce(summary(read));
  for (const [i, photo] of photos.entries()) {
    const calibration = read.calibrations[i];
    // What a photo that was measured before could teach, it taught then.
    if (calibration && !photo.calibration) await afterReading(view, photo, photo.scale, calibration);
  }
  view.lookAt.value = 'face';
  return true;
}

const flitchOf = (job: Job, slabId: string) => Object.values(job.flitches).find(({ slabs }) => slabs[slabId]);

const faceOf = (job: Job, slabId: string, name: FaceName): Face | null =>
  flitchOf(job, slabId)?.slabs[slabId]?.faces[name] ?? null;

function summary({ joins, traced }: JoinedPhotos): string {
  const off = Math.max(...joins.map(({ marks }) => marks));
  const moved = [...new Set(joins.flatMap((join) => join.moved))];
  const left = moved.length > 0 ? ` Left out, since each photo shows it elsewhere: ${moved.join(', ')}.` : '';
  const cut = traced.cutOff.length > 0 ? ` The slab runs out of the picture (${traced.cutOff.join(', ')}).` : '';
  const count = joins.length + 1;
  return `${count} photos joined: their marks lie on each other within ${Math.max(0.1, off).toFixed(1)} mm.${left}${cut}`;
}
