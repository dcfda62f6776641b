import * as Comlink from 'comlink';
import type { Point, Polygon, Region } from '../src/geometry';
import { type GrainField, grainField } from '../src/grain';
import type { Picture, Scale } from '../src/job';
import {
  type Cv,
  checkPhotoShape,
  type EarlyPart,
  type Edges,
  type FaceOfShots,
  type FaceRead,
  type FaceReading,
  followEdge,
  heapBytes,
  type LeafRead,
  type LeavesRead,
  type Look,
  type LookOptions,
  layBeside,
  lookAt,
  nearestEdge,
  type ReadFaceOptions,
  type RemeasureOptions,
  type RetraceOptions,
  readFace,
  readFaceOfShots,
  readLeaves,
  remeasure,
  retrace,
  type Shot,
  type Size,
} from '../src/photo';
import type { FacePicture } from '../src/raster';
import { type Control, pause, stage } from '../src/search';
import { type Answer, Calls, type Report } from './answer';
import { type CameraTraits, cameraOf } from './camera';
import { decodePhoto, photoSize } from './decode';
import { encode, pixelsOf } from './pixels';

/** Decodes photos and reads them. Thin: what is computed is in the photo room. */

/** A rectified picture as a JPEG, and where it lies. */
export interface KeptPicture {
  picture: Blob;
  place: Omit<Picture, 'file'>;
}

/** What a photo told, ready for the job. */
export interface ReadPhoto extends Omit<FaceRead, 'picture'>, KeptPicture {}

/** One of several photos of a face. */
export interface PhotoOfFace extends Pick<Shot, 'scale' | 'before' | 'strokes'> {
  file: Blob;
  name: string;
}

/** What several photos told of a face, ready for the job. */
export interface JoinedPhotos extends Omit<FaceOfShots, 'picture'>, KeptPicture {}

/** A leaf of a picture of several, ready for the job. */
export interface ReadLeafPhoto extends Omit<LeafRead, 'picture' | 'place'>, KeptPicture {}

/** What a picture of leaves told. */
export interface ReadLeavesPhoto extends Omit<LeavesRead, 'leaves'> {
  leaves: readonly ReadLeafPhoto[];
}

/** What is known of a photo before all is. */
export type EarlyPhoto =
  | ({ kind: 'preview' } & KeptPicture)
  | { kind: 'wood'; wood: Polygon<'face'> }
  | ({ kind: 'outline' } & ReadPhoto);

/** 0.95 keeps the figure of the wood; a face of 2.7 m by 0.6 m is then about 1 MB. */
const JPEG_QUALITY = 0.95;
/** A worker whose OpenCV holds more than this, bytes, is replaced when its work is done: what it holds never shrinks, and ends at 1 GiB. */
const MOST_HEAP = 512 * 2 ** 20;

let opencv: Promise<{ cv: Cv }> | null = null;
let heap = 0;
const calls = new Calls(() => heap > MOST_HEAP);

/** OpenCV, started once. Wrapped: the bare handle may look like a promise. */
const started = (): Promise<{ cv: Cv }> => (opencv ??= import('./opencv').then(({ loadOpencv }) => loadOpencv()));

/** Runs work that needs OpenCV, and notes what it has come to hold. */
async function measuring<T>(cv: Cv, work: () => T | Promise<T>): Promise<T> {
  try {
    return await work();
  } finally {
    heap = heapBytes(cv);
  }
}

async function kept({ raster, mmPerPx, x0, y0 }: FacePicture): Promise<KeptPicture> {
  const { width, height } = raster;
  return { picture: await encode(raster, 'image/jpeg', JPEG_QUALITY), place: { mmPerPx, x0, y0, width, height } };
}

async function opened(photos: readonly PhotoOfFace[], control: Control): Promise<Shot[]> {
  const shots: Shot[] = [];
  for (const [i, { file, name, scale, before, strokes }] of photos.entries()) {
    await pause(control, i / photos.length, 'Opening the photos');
    const { raster, full, focal35 } = await decodePhoto(file, name);
    const exif = focal35 !== undefined && { exifFocal35: focal35 };
    shots.push({ name, photo: raster, full, scale, ...(before && { before }), ...(strokes && { strokes }), ...exif });
  }
  return shots;
}

async function early(part: EarlyPart): Promise<EarlyPhoto> {
  if (part.kind === 'wood') return part;
  if (part.kind === 'preview') return { kind: part.kind, ...(await kept(part.picture)) };
  const { kind, calibration, traced, picture } = part;
  return { kind, calibration, traced, ...(await kept(picture)) };
}

/** The picture of a face whose edge a hand follows: kept, since each move of the hand asks for it. */
let followed: { file: string; picture: Promise<FacePicture> } | null = null;

async function facePicture(blob: Blob, { mmPerPx, x0, y0 }: Omit<Picture, 'file'>): Promise<FacePicture> {
  return { raster: pixelsOf(await createImageBitmap(blob)), mmPerPx, x0, y0 };
}

const api = {
  stop(id: number): void {
    calls.stop(id);
  },

  /** Size in pixels, as the photo is seen upright. A problem when the file is no photo, cut short, too large or a panorama. */
  inspect(id: number, file: Blob, name: string, report: Report): Promise<Answer<Size>> {
    return calls.answer(id, report, async () => {
      const size = await photoSize(file, name);
      checkPhotoShape(size, name);
      // Most photos are read next.
      void started();
      return size;
    });
  },

  /** What a frame of a camera's preview shows; the frame is used up. */
  glance(id: number, frame: ImageBitmap, options: LookOptions): Promise<Answer<Look>> {
    return calls.answer(
      id,
      () => {},
      async () => {
        const { cv } = await started();
        return measuring(cv, () => lookAt(cv, pixelsOf(frame), { ...options, preview: true }));
      },
    );
  },

  /** What a photo shows, before it is measured. A problem where it is no photo. */
  look(id: number, file: Blob, name: string, options: LookOptions, report: Report): Promise<Answer<Look>> {
    return calls.answer(id, report, async () => {
      const [{ raster }, { cv }] = await Promise.all([decodePhoto(file, name), started()]);
      return measuring(cv, () => lookAt(cv, raster, options));
    });
  },

  /** What a photo says of the camera that took it. */
  camera(id: number, file: Blob, width: number, height: number): Promise<Answer<CameraTraits>> {
    return calls.answer(
      id,
      () => {},
      () => cameraOf(file, width, height),
    );
  },

  /**
   * Finds the reference, rectifies the face, traces the wood and proposes defects.
   * @param heard hears what is known before all is
   */
  read(
    id: number,
    file: Blob,
    name: string,
    scale: Scale,
    options: Pick<ReadFaceOptions, 'readings' | 'strokes'>,
    report: Report,
    heard: (part: EarlyPhoto) => void,
  ): Promise<Answer<ReadPhoto>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the photo');
      const [{ raster, full, focal35 }, { cv }] = await Promise.all([decodePhoto(file, name), started()]);
      await pause(control, 0.1, 'Finding the reference');
      let sent = null as KeptPicture | null;
      const read = await measuring(cv, () =>
        readFace(cv, raster, scale, {
          ...options,
          full,
          ...(focal35 !== undefined && { exifFocal35: focal35 }),
          heard: async (part) => {
            const told = await early(part);
            if (told.kind === 'outline') sent = { picture: told.picture, place: told.place };
            heard(told);
          },
          control: stage(control, 0.1, 0.95),
        }),
      );
      await pause(control, 0.95, 'Keeping the picture of the face');
      const { calibration, traced, picture } = read;
      // The picture went out with the outline.
      return { ...(sent ?? (await kept(picture))), calibration, traced };
    });
  },

  /** Finds, measures and traces every leaf that a picture shows. */
  leaves(id: number, file: Blob, name: string, scale: Scale, report: Report): Promise<Answer<ReadLeavesPhoto>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the photo');
      const [{ raster, full, focal35 }, { cv }] = await Promise.all([decodePhoto(file, name), started()]);
      const exif = focal35 !== undefined && { exifFocal35: focal35 };
      const read = await measuring(cv, () =>
        readLeaves(cv, raster, scale, { full, ...exif, control: stage(control, 0.1, 0.95) }),
      );
      await pause(control, 0.95, 'Keeping the pictures of the leaves');
      const leaves: ReadLeafPhoto[] = [];
      for (const { picture, place: _, ...leaf } of read.leaves) leaves.push({ ...leaf, ...(await kept(picture)) });
      return { ...read, leaves };
    });
  },

  /** Reads a face from several photos of it, which become one picture. */
  join(
    id: number,
    photos: readonly PhotoOfFace[],
    readings: readonly FaceReading[],
    report: Report,
  ): Promise<Answer<JoinedPhotos>> {
    return calls.answer(id, report, async (control) => {
      const shots = await opened(photos, stage(control, 0, 0.1));
      const { cv } = await started();
      const { picture, ...face } = await measuring(cv, () =>
        readFaceOfShots(cv, shots, { readings, control: stage(control, 0.1, 0.95) }),
      );
      await pause(control, 0.95, 'Keeping the picture of the face');
      return { ...face, ...(await kept(picture)) };
    });
  },

  /** Whether photos look as if they showed parts of one face. */
  beside(id: number, photos: readonly PhotoOfFace[], report: Report): Promise<Answer<boolean>> {
    return calls.answer(id, report, async (control) => {
      const shots = await opened(photos, control);
      const { cv } = await started();
      return measuring(cv, () => layBeside(cv, shots));
    });
  },

  /** A photo measured again by what was added to its reference, and the same part of its face by that; nothing is traced. */
  remeasure(
    id: number,
    file: Blob,
    name: string,
    scale: Scale,
    options: Omit<RemeasureOptions, 'exifFocal35' | 'full'>,
    report: Report,
  ): Promise<Answer<Omit<ReadPhoto, 'traced'>>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the photo');
      const [{ raster, full, focal35 }, { cv }] = await Promise.all([decodePhoto(file, name), started()]);
      await pause(control, 0.2, 'Finding the reference');
      const { calibration, picture } = await measuring(cv, () =>
        remeasure(cv, raster, scale, { ...options, full, ...(focal35 !== undefined && { exifFocal35: focal35 }) }),
      );
      await pause(control, 0.9, 'Keeping the picture of the face');
      return { calibration, ...(await kept(picture)) };
    });
  },

  /** Direction and ring spacing of the grain over a face, from its stored picture. */
  grain(
    id: number,
    picture: Blob,
    place: Omit<Picture, 'file'>,
    outline: Region<'face'>,
    without: readonly Region<'face'>[],
    step: number,
    report: Report,
  ): Promise<Answer<GrainField>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the picture of the face');
      const face = await facePicture(picture, place);
      await pause(control, 0.2, 'Reading the grain');
      return grainField(face, outline, { step, without });
    });
  },

  /** The wood's edge anew after strokes by hand, from the stored picture of the face. */
  retrace(
    id: number,
    picture: Blob,
    place: Omit<Picture, 'file'>,
    options: RetraceOptions,
    report: Report,
  ): Promise<Answer<Edges>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the picture of the face');
      const [face, { cv }] = await Promise.all([facePicture(picture, place), started()]);
      await pause(control, 0.15, 'Telling wood from what is beside it');
      const edges = await measuring(cv, () => retrace(cv, face, options));
      await pause(control, 1);
      return edges;
    });
  },

  /**
   * The line along the clearest edge from one point to a second, which is first drawn to an edge near it.
   * @param file the picture's name, by which it is known from the call before
   * @param within how far the second point may be drawn, mm; 0 leaves it
   */
  follow(
    id: number,
    picture: Blob,
    { file, ...place }: Picture,
    from: Point<'face'>,
    to: Point<'face'>,
    within: number,
  ): Promise<Answer<Point<'face'>[]>> {
    return calls.answer(
      id,
      () => {},
      async () => {
        if (followed?.file !== file) followed = { file, picture: facePicture(picture, place) };
        const face = await followed.picture;
        return followEdge(face, from, (within > 0 && nearestEdge(face, to, within)) || to);
      },
    );
  },
};
export type PhotoApi = typeof api;
Comlink.expose(api);
