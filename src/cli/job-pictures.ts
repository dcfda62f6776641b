import { faceKey, findSlab, type Job, type Photo, type Picture, slabsInOrder } from '../job';
import type { Shot } from '../photo';
import { recordShots, recordTrace } from '../plan';
import type { FacePicture } from '../raster';
import { type Control, pause, stage } from '../search';
import { slabReadings } from '../surface';
import { InputProblem } from '../units';
import type { JobSource } from './job-source';
import { loadOpenCv } from './opencv';
import { decodePhoto, decodeToMeasure } from './photo-file';

/** A job whose photographed faces are all traced, with the rectified picture of each by its key. */
export interface TracedJob {
  readonly job: Job;
  readonly pictures: ReadonlyMap<string, FacePicture>;
}

interface Place {
  readonly flitch: string;
  readonly slab: string;
  readonly face: 'top' | 'bottom';
}

/** Reads a stored picture of a face. */
export async function storedPicture(picture: Picture, files: JobSource['files']): Promise<FacePicture> {
  const { raster } = await decodePhoto(bytesOf(picture.file, files), picture.file);
  const { mmPerPx, x0, y0 } = picture;
  return { raster, mmPerPx, x0, y0 };
}

function bytesOf(file: string, files: JobSource['files']): Uint8Array {
  const bytes = files.get(file);
  if (!bytes) throw new Error(`The job was read without its file ${file}.`);
  return bytes;
}

/** Traces the photos of a face, which become one picture, into the job, and gives that. */
async function traceFace(
  draft: Job,
  place: Place,
  photos: readonly Photo[],
  files: JobSource['files'],
  control: Control,
): Promise<FacePicture> {
  const face = `/flitches/${place.flitch}/slabs/${place.slab}/faces/${place.face}`;
  const { readFace, readFaceOfShots, strokesOnPhotos, WHICH_PIECE } = await import('../photo');
  const own = findSlab(draft, place.flitch, place.slab).slab;
  const strokes = strokesOnPhotos(photos, own.faces[place.face].strokes);
  const shots: Shot[] = [];
  for (const [i, photo] of photos.entries()) {
    const { raster, full, focal35 } = await decodeToMeasure(bytesOf(photo.file, files), photo.file);
    if (full.width !== photo.width || full.height !== photo.height)
      throw new InputProblem(
        `"${photo.file}" is ${full.width} x ${full.height} pixels, but the job says ${photo.width} x ${photo.height}.`,
        `${face}/photos/${photo.id}/width`,
        'Put the photo there that the job was made with, or correct its size.',
      );
    const exif = focal35 !== undefined && { exifFocal35: focal35 };
    const { file: name, scale, calibration: before } = photo;
    shots.push({ name, photo: raster, full, scale, before, strokes: strokes[i] ?? [], ...exif });
  }
  const { cv } = await loadOpenCv();
  const options = {
    control,
    ...(place.face === 'top' && { readings: slabReadings(own).top }),
  };
  const keep = ({ mmPerPx, x0, y0, raster: { width, height } }: FacePicture): Picture => ({
    file: `${place.slab}-${place.face}.png`,
    mmPerPx,
    x0,
    y0,
    width,
    height,
  });
  const [only] = shots.length === 1 ? shots : [];
  const where = only ? `${face}/photos/${photos[0]?.id}/scale` : `${face}/photos`;
  const under = (error: unknown) => {
    if (!(error instanceof InputProblem)) throw error;
    if (error.where !== WHICH_PIECE) throw error.under(where);
    const { id } = photos[0] as Photo;
    throw new InputProblem(
      error.message,
      `${face}/photos/${id}/slabAt`,
      'Put [u, v] there, the pixel of a place on the slab that is meant, or read the photo in the app and tap it.',
    );
  };
  if (only) {
    const read = await readFace(cv, only.photo, only.scale, { ...only, ...options }).catch(under);
    recordTrace(draft, { ...place, photo: (photos[0] as Photo).id }, read, keep(read.picture));
    return read.picture;
  }
  const read = await readFaceOfShots(cv, shots, options).catch(under);
  recordShots(
    draft,
    place,
    photos.map(({ id }) => id),
    read,
    keep(read.picture),
  );
  return read.picture;
}

/**
 * The job with every face traced that has photos but no outline yet, and the pictures of all its faces. What a person has settled is
 * left as it is.
 * @throws InputProblem when a photo cannot be read or traced; Cancelled when called off
 */
export async function traceJob({ job, files }: JobSource, control: Control): Promise<TracedJob> {
  const draft = structuredClone(job);
  const pictures = new Map<string, FacePicture>();
  const places: Place[] = Object.values(job.flitches).flatMap((flitch) =>
    slabsInOrder(flitch).flatMap((slab) =>
      (['top', 'bottom'] as const).map((face) => ({ flitch: flitch.id, slab: slab.id, face })),
    ),
  );
  for (const [i, place] of places.entries()) {
    const face = job.flitches[place.flitch]?.slabs[place.slab]?.faces[place.face];
    const photos = Object.values(face?.photos ?? {});
    const key = faceKey(place.flitch, place.slab, place.face);
    const part = stage(control, i / places.length, (i + 1) / places.length);
    await pause(part, 0, photos.length > 0 ? `reading ${photos.map(({ file }) => file).join(', ')}` : undefined);
    if (face?.picture) pictures.set(key, await storedPicture(face.picture, files));
    else if (photos.length > 0 && !face?.outline) pictures.set(key, await traceFace(draft, place, photos, files, part));
  }
  return { job: draft, pictures };
}
