import * as Comlink from 'comlink';
import exifr from 'exifr';
import type { Picture, Scale } from '../src/job';
import { type FaceReading, type RemeasureOptions, remeasure, type TracedPhoto, tracePhoto } from '../src/photo';
import { pause } from '../src/search';
import { InputProblem } from '../src/units';
import { type Answer, Calls, type Report } from './answer';
import { type CameraTraits, cameraOf } from './camera';
import { checkPhotoFile } from './photo-file';
import { encode, pixelsOf } from './pixels';

/** Decodes photos and reads them. Thin: what is computed is in the photo room. */

/** What a photo told, ready for the job: the picture is a JPEG of the rectified face, and lies where `place` says. */
export interface ReadPhoto extends Pick<TracedPhoto, 'calibration' | 'traced'> {
  picture: Blob;
  place: Omit<Picture, 'file'>;
}

/** 0.95 keeps the figure of the wood; a face of 2.7 m by 0.6 m is then about 1 MB. */
const JPEG_QUALITY = 0.95;

const calls = new Calls();

const api = {
  stop(id: number): void {
    calls.stop(id);
  },

  /** Size in pixels, as the photo is seen upright. A problem when the file is no photo, cut short or too large. */
  inspect(id: number, file: Blob, name: string, report: Report): Promise<Answer<{ width: number; height: number }>> {
    return calls.answer(id, report, async () => {
      const bitmap = await decode(file, name);
      const { width, height } = bitmap;
      bitmap.close();
      return { width, height };
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

  /** Finds the reference, rectifies the face, traces the wood and proposes defects. */
  read(
    id: number,
    file: Blob,
    name: string,
    scale: Scale,
    readings: readonly FaceReading[],
    report: Report,
  ): Promise<Answer<ReadPhoto>> {
    return calls.answer(id, report, async (control) => {
      await pause(control, 0, 'Opening the photo');
      const photo = pixelsOf(await decode(file, name));
      const exif = await exifr.parse(file, ['FocalLengthIn35mmFormat']).catch(() => undefined);
      const focal: unknown = exif?.FocalLengthIn35mmFormat;
      await pause(control, 0.05, 'Getting ready to measure');
      const { cv } = await (await import('./opencv')).loadOpencv();
      await pause(control, 0.1, 'Finding the reference');
      const { calibration, traced, picture } = await tracePhoto(cv, photo, scale, {
        readings,
        ...(typeof focal === 'number' && focal > 0 && { exifFocal35: focal }),
        control: { ...control, progress: (fraction, note) => control.progress(0.1 + 0.85 * fraction, note) },
      });
      await pause(control, 0.95, 'Keeping the picture of the face');
      const { mmPerPx, x0, y0, raster } = picture;
      return {
        calibration,
        traced,
        picture: await encode(raster, 'image/jpeg', JPEG_QUALITY),
        place: { mmPerPx, x0, y0, width: raster.width, height: raster.height },
      };
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
      const photo = pixelsOf(await decode(file, name));
      const exif = await exifr.parse(file, ['FocalLengthIn35mmFormat']).catch(() => undefined);
      const focal: unknown = exif?.FocalLengthIn35mmFormat;
      await pause(control, 0.2, 'Finding the reference');
      const { cv } = await (await import('./opencv')).loadOpencv();
      const { calibration, picture } = remeasure(cv, photo, scale, {
        ...options,
        ...(typeof focal === 'number' && focal > 0 && { exifFocal35: focal }),
      });
      await pause(control, 0.9, 'Keeping the picture of the face');
      const { mmPerPx, x0, y0, raster } = picture;
      return {
        calibration,
        picture: await encode(raster, 'image/jpeg', JPEG_QUALITY),
        place: { mmPerPx, x0, y0, width: raster.width, height: raster.height },
      };
    });
  },
};
export type PhotoApi = typeof api;
Comlink.expose(api);

/** The photo upright, as its EXIF turns it. @throws InputProblem when it cannot be decoded */
async function decode(file: Blob, name: string): Promise<ImageBitmap> {
  checkPhotoFile(new Uint8Array(await file.arrayBuffer()), name);
  try {
    return await createImageBitmap(file);
  } catch {
    throw new InputProblem(
      'This photo is damaged: it cannot be opened.',
      name,
      'Copy or send it again, or take another.',
    );
  }
}
