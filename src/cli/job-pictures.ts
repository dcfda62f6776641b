import { faceKey, findSlab, type Job, type Photo, type Picture, slabsInOrder } from '../job';
import { recordTrace } from '../plan';
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
async function storedPicture(picture: Picture, files: JobSource['files']): Promise<FacePicture> {
  const { raster } = await decodePhoto(bytesOf(picture.file, files), picture.file);
  const { mmPerPx, x0, y0 } = picture;
  return { raster, mmPerPx, x0, y0 };
}

function bytesOf(file: string, files: JobSource['files']): Uint8Array {
  const bytes = files.get(file);
  if (!bytes) throw new Error(`The job was read without its file ${file}.`);
  return bytes;
}

/** Traces the first photo of a face into the job, and gives the face's picture. */
async function traceFace(draft: Job, place: Place, photo: Photo, files: JobSource['files'], control: Control) {
  const where = `/flitches/${place.flitch}/slabs/${place.slab}/faces/${place.face}/photos/${photo.id}`;
  const { raster, full, focal35 } = await decodeToMeasure(bytesOf(photo.file, files), photo.file);
  if (full.width !== photo.width || full.height !== photo.height)
    throw new InputProblem(
      `"${photo.file}" is ${full.width} x ${full.height} pixels, but the job says ${photo.width} x ${photo.height}.`,
      `${where}/width`,
      'Put the photo there that the job was made with, or correct its size.',
    );
  const { readFace } = await import('../photo');
  const { cv } = await loadOpenCv();
  const traced = await readFace(cv, raster, photo.scale, {
    control,
    full,
    ...(focal35 !== undefined && { exifFocal35: focal35 }),
    ...(place.face === 'top' && { readings: slabReadings(findSlab(draft, place.flitch, place.slab).slab).top }),
  }).catch((error: unknown) => {
    throw error instanceof InputProblem ? error.under(`${where}/scale`) : error;
  });
  const { picture } = traced;
  const { mmPerPx, x0, y0 } = picture;
  const { width, height } = picture.raster;
  recordTrace(draft, { ...place, photo: photo.id }, traced, {
    file: `${place.slab}-${place.face}.png`,
    mmPerPx,
    x0,
    y0,
    width,
    height,
  });
  return picture;
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
    const photo = Object.values(face?.photos ?? {})[0];
    const key = faceKey(place.flitch, place.slab, place.face);
    const part = stage(control, i / places.length, (i + 1) / places.length);
    await pause(part, 0, photo ? `reading ${photo.file}` : undefined);
    if (face?.picture) pictures.set(key, await storedPicture(face.picture, files));
    else if (photo && !face?.outline) pictures.set(key, await traceFace(draft, place, photo, files, part));
  }
  return { job: draft, pictures };
}
