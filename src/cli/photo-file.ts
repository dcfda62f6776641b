import type { Metadata } from 'sharp';
import type { Size } from '../photo';
import { type Raster, rasterOf } from '../raster';
import { InputProblem } from '../units';
import { readBytes } from './json-file';

/** Most pixels of a TIFF that are decoded, in millions. */
const MOST_MILLION = 100;

/** What the checked kinds of photo are to the decoder, and TIFF, which only it can read. */
const FORMATS = ['jpeg', 'png', 'webp', 'heif', 'tiff'];

/** A decoded photo, as a viewer shows it: the camera's orientation is applied, colours are sRGB of 8 bits, alpha lies on white. */
export interface PhotoFile {
  /** RGB. */
  readonly raster: Raster;
  /** Size of the photo: the raster's, unless that is a smaller copy. */
  readonly full: Size;
  /** Focal length in terms of 35 mm film, from EXIF; undefined where the camera did not say. */
  readonly focal35: number | undefined;
}

/**
 * Reads and decodes a photo or picture at full size.
 * @param path where it is; @param name what the person called it, the place of a problem
 * @throws InputProblem when it is missing, empty, no photo, cut short, of a kind that cannot be read, or over 100 million pixels
 */
export async function readPhoto(path: string, name: string): Promise<PhotoFile> {
  return decodePhoto(await readBytes(path, name), name);
}

/** Decodes a photo's bytes at full size. @throws InputProblem as `readPhoto` */
export function decodePhoto(bytes: Uint8Array, name: string): Promise<PhotoFile> {
  return decoded(bytes, name, (full) => full);
}

/** Decodes a photo's bytes to be measured: a large one as a smaller copy. @throws InputProblem as `readPhoto` */
export async function decodeToMeasure(bytes: Uint8Array, name: string): Promise<PhotoFile> {
  const { workingSize } = await import('../photo');
  return decoded(bytes, name, workingSize);
}

async function decoded(bytes: Uint8Array, name: string, sizeOf: (full: Size) => Size): Promise<PhotoFile> {
  const { checkPhotoFile, damagedPhoto, isTiff } = await import('../photo');
  const stored = isTiff(bytes) ? null : checkPhotoFile(bytes, name);
  const { default: sharp } = await import('sharp');
  const found: Metadata = await sharp(bytes, { limitInputPixels: false })
    .metadata()
    .catch(() => {
      throw damagedPhoto(name);
    });
  const { autoOrient: full, format } = found;
  const million = Math.round((full.width * full.height) / 1e6);
  if (!stored && million > MOST_MILLION)
    throw new InputProblem(
      `This photo has ${million} million pixels; up to ${MOST_MILLION} million can be read.`,
      name,
      'Take it at a lower resolution (12 million are plenty), or make it smaller first.',
    );
  if (!FORMATS.includes(format)) throw damagedPhoto(name);
  const { width, height } = sizeOf(full);
  const upright = sharp(bytes, { failOn: 'error', limitInputPixels: MOST_MILLION * 1e6 }).autoOrient();
  const sized =
    width === full.width ? upright : upright.resize(width, height, { fit: 'fill', fastShrinkOnLoad: false });
  const { data, info } = await sized
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true })
    .catch(() => {
      throw damagedPhoto(name);
    });
  return { raster: rasterOf(info.width, info.height, 3, data), full, focal35: await focal35(bytes) };
}

async function focal35(bytes: Uint8Array): Promise<number | undefined> {
  const { default: exifr } = await import('exifr');
  // Pictures without EXIF, or with a broken one, are as good as those without a focal length.
  const tags = await exifr.parse(bytes, ['FocalLengthIn35mmFormat']).catch(() => undefined);
  const focal: unknown = tags?.FocalLengthIn35mmFormat;
  return typeof focal === 'number' && focal > 0 && Number.isFinite(focal) ? focal : undefined;
}

/** A picture as PNG. Same pixels, same bytes. */
export async function toPng({ width, height, channels, data }: Raster): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  return sharp(data, { raw: { width, height, channels } }).png().toBuffer();
}

/** A picture as JPEG, what is transparent as white. Same pixels, same bytes. */
export async function toJpeg({ width, height, channels, data }: Raster): Promise<Uint8Array> {
  const { default: sharp } = await import('sharp');
  const raw = sharp(data, { raw: { width, height, channels } });
  return raw.flatten({ background: '#ffffff' }).jpeg({ quality: 85 }).toBuffer();
}
