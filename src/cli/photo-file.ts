import type { Metadata } from 'sharp';
import { type Raster, rasterOf } from '../raster';
import { InputProblem } from '../units';
import { readBytes } from './json-file';

/** Most pixels that are decoded. Phones take 12 to 50 million; more would fill the memory of a small machine. */
const MOST_PIXELS = 100e6;

const FORMATS = ['jpeg', 'png', 'webp', 'tiff'];

/** A decoded photo, as a viewer shows it: the camera's orientation is applied, colours are sRGB of 8 bits, alpha lies on white. */
export interface PhotoFile {
  /** RGB. */
  readonly raster: Raster;
  /** Focal length in terms of 35 mm film, from EXIF; undefined where the camera did not say. */
  readonly focal35: number | undefined;
}

/** The brand of an ISO media file that holds a HEVC picture, as iPhones take them: nobody may decode it freely. */
const isHeic = (bytes: Uint8Array): boolean =>
  /^ftyp(hei|hev|hvc|mif1|msf1)/.test(String.fromCharCode(...bytes.subarray(4, 12)));

/**
 * Reads and decodes a photo or picture.
 * @param path where it is; @param name what the person called it, the place of a problem
 * @throws InputProblem when it is missing, empty, no photo, cut short, of a kind that cannot be read, or over 100 million pixels
 */
export async function readPhoto(path: string, name: string): Promise<PhotoFile> {
  return decodePhoto(await readBytes(path, name), name);
}

/** Decodes a photo's bytes. @throws InputProblem as `readPhoto` */
export async function decodePhoto(bytes: Uint8Array, name: string): Promise<PhotoFile> {
  if (bytes.length === 0)
    throw new InputProblem(`"${name}" is empty (0 bytes).`, name, 'Copy or choose the photo again.');
  if (isHeic(bytes))
    throw new InputProblem(
      `"${name}" is a HEIC photo, which cannot be read here.`,
      name,
      'Send it as a JPEG: on an iPhone choose Settings, Camera, Formats, Most Compatible.',
    );
  const { default: sharp } = await import('sharp');
  const notAPhoto = () =>
    new InputProblem(`"${name}" is not a photo that can be read.`, name, 'Give a JPEG, PNG, WebP or TIFF.');
  const found: Metadata = await sharp(bytes, { limitInputPixels: false })
    .metadata()
    .catch(() => {
      throw notAPhoto();
    });
  const { width, height, format } = found;
  if (!FORMATS.includes(format)) throw notAPhoto();
  if (width * height > MOST_PIXELS)
    throw new InputProblem(
      `"${name}" has ${Math.round((width * height) / 1e6)} million pixels; up to ${MOST_PIXELS / 1e6} million can be read.`,
      name,
      'Take it at a lower resolution (12 million are plenty), or make it smaller first.',
    );
  const { data, info } = await sharp(bytes, { failOn: 'error', limitInputPixels: MOST_PIXELS })
    .autoOrient()
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .raw()
    .toBuffer({ resolveWithObject: true })
    .catch(() => {
      throw new InputProblem(`"${name}" is cut short or damaged.`, name, 'Copy or send the photo again.');
    });
  return { raster: rasterOf(info.width, info.height, 3, data), focal35: await focal35(bytes) };
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
