import exifr from 'exifr';
import { checkPhotoFile, damagedPhoto, type Size, workingSize } from '../src/photo';
import type { Raster } from '../src/raster';
import { pixelsOf } from './pixels';

/** A photo as a viewer shows it: upright as its EXIF turns it, colours sRGB of 8 bits, transparency on white. */
export interface DecodedPhoto {
  /** RGBA, opaque; a smaller copy of a large photo. */
  raster: Raster;
  /** Size of the photo itself. */
  full: Size;
  /** Focal length in terms of 35 mm film, from EXIF; undefined where the camera did not say. */
  focal35: number | undefined;
}

/** Decodes a photo to be measured. @throws InputProblem when it is no whole photo or of a kind that cannot be opened */
export async function decodePhoto(file: Blob, name: string): Promise<DecodedPhoto> {
  const bitmap = await bitmapOf(file, name);
  const { width, height } = bitmap;
  return {
    raster: pixelsOf(bitmap, workingSize({ width, height })),
    full: { width, height },
    focal35: await focal35(file),
  };
}

/** Size of a photo, upright. @throws InputProblem as `decodePhoto` */
export async function photoSize(file: Blob, name: string): Promise<Size> {
  const bitmap = await bitmapOf(file, name);
  const { width, height } = bitmap;
  bitmap.close();
  return { width, height };
}

async function bitmapOf(file: Blob, name: string): Promise<ImageBitmap> {
  checkPhotoFile(new Uint8Array(await file.arrayBuffer()), name);
  try {
    return await createImageBitmap(file);
  } catch {
    throw damagedPhoto(name);
  }
}

async function focal35(file: Blob): Promise<number | undefined> {
  // Pictures without EXIF, or with a broken one, are as good as those without a focal length.
  const tags = await exifr.parse(file, ['FocalLengthIn35mmFormat']).catch(() => undefined);
  const focal: unknown = tags?.FocalLengthIn35mmFormat;
  return typeof focal === 'number' && focal > 0 && Number.isFinite(focal) ? focal : undefined;
}
