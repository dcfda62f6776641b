import exifr from 'exifr';

/** What a photo's file says of the camera that took it; empty texts and nulls where it does not say. */
export interface CameraTraits {
  make: string;
  model: string;
  /** The lens by its name, where a camera has several. */
  lens: string;
  /** Focal length, mm, and the same in 35 mm terms. */
  focal: number | null;
  focal35: number | null;
  /** Digital zoom: 1 is none. */
  zoom: number;
  /** Longer and shorter side of the photo, px. */
  longer: number;
  shorter: number;
  /** The day it was taken, yyyy-mm-dd. */
  day: string | null;
}

const TAGS = [
  'Make',
  'Model',
  'LensModel',
  'FocalLength',
  'FocalLengthIn35mmFormat',
  'DigitalZoomRatio',
  'DateTimeOriginal',
];

/** Reads the camera's traits from a photo's EXIF; a photo without any has only its size. */
export async function cameraOf(file: Blob, width: number, height: number): Promise<CameraTraits> {
  const exif: Record<string, unknown> = (await exifr.parse(file, TAGS).catch(() => undefined)) ?? {};
  const text = (key: string) => (typeof exif[key] === 'string' ? exif[key].trim() : '');
  const number = (key: string) => {
    const value = exif[key];
    return typeof value === 'number' && value > 0 ? value : null;
  };
  const taken = exif.DateTimeOriginal;
  return {
    make: text('Make'),
    model: text('Model'),
    lens: text('LensModel'),
    focal: number('FocalLength'),
    focal35: number('FocalLengthIn35mmFormat'),
    zoom: number('DigitalZoomRatio') ?? 1,
    longer: Math.max(width, height),
    shorter: Math.min(width, height),
    day: taken instanceof Date && !Number.isNaN(taken.getTime()) ? taken.toISOString().slice(0, 10) : null,
  };
}
