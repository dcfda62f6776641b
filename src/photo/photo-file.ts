import { InputProblem } from '../units';
import type { Size } from './working-copy';

/**
 * What a photo's file says of itself, before anything is decoded: a picture of 200 million points would take 800 MB and
 * the tab with it, and decoders give the upper half of a cut-off photo without a word.
 */

/** Most pixels that are decoded. Phones take 12 to 50 million; 100 million fill 400 MB. */
const MOST_PIXELS = 100e6;
/** Longest side, px: what a browser's canvas holds. */
const LONGEST = 32767;

const SEND_JPEG =
  'Send it as a JPEG: on an iPhone choose Settings, Camera, Formats, Most Compatible, or share the photo as JPEG.';
const CHOOSE = 'Choose a JPEG, PNG, WebP or AVIF photo.';

/**
 * Checks that `bytes` are a whole photo of one picture, JPEG, PNG, WebP or AVIF, of a bearable size.
 * @returns its size as it is stored, before the camera's orientation is applied
 * @throws InputProblem with `name` as its place
 */
export function checkPhotoFile(bytes: Uint8Array, name: string): Size {
  if (bytes.length === 0) throw new InputProblem('This file is empty (0 bytes).', name, 'Choose the photo again.');
  const { width, height } = sizeOf(bytes, name);
  if (width < 1 || height < 1) throw damagedPhoto(name);
  if (width * height > MOST_PIXELS || Math.max(width, height) > LONGEST) {
    const million = Math.round((width * height) / 1e6);
    throw new InputProblem(
      `This photo has ${million} million pixels; up to ${MOST_PIXELS / 1e6} million can be read.`,
      name,
      'Take it at a lower resolution (12 million are plenty), or make it smaller first.',
    );
  }
  return { width, height };
}

/** The problem of a photo whose decoder gives up on it. */
export const damagedPhoto = (name: string): InputProblem =>
  new InputProblem('This photo is damaged: it cannot be opened.', name, 'Copy or send it again, or take another.');

function sizeOf(bytes: Uint8Array, name: string): Size {
  const cut = () => new InputProblem('This photo is cut short: its end is missing.', name, 'Copy or send it again.');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    if (view.getUint16(0) === 0xffd8) return jpegSize(view, name) ?? fail(cut());
    if (ascii(view, 1, 3) === 'PNG') return pngSize(view, name) ?? fail(cut());
    if (ascii(view, 0, 4) === 'RIFF' && ascii(view, 8, 4) === 'WEBP') return webpSize(view, name) ?? fail(cut());
    if (ascii(view, 0, 3) === 'GIF') fail(notOnePicture('a GIF, made for drawings and animations', name));
    if (isTiff(bytes))
      fail(
        new InputProblem(
          "This is a TIFF or a camera's raw file, which browsers cannot open.",
          name,
          'Save it as a JPEG or PNG at full size.',
        ),
      );
    if (ascii(view, 4, 4) === 'ftyp') {
      const brand = ascii(view, 8, 4);
      if (brand === 'avif') return avifSize(view) ?? fail(cut());
      if (brand === 'avis') fail(notOnePicture('an animation', name));
      if (/^(hei|hev|hvc|mif|msf)/.test(brand))
        fail(new InputProblem('This is a HEIC photo, which cannot be opened here.', name, SEND_JPEG));
      fail(notOnePicture('a film', name));
    }
  } catch (error) {
    if (error instanceof RangeError) throw looksLikePhoto(bytes) ? cut() : notAPhoto(name);
    throw error;
  }
  throw notAPhoto(name);
}

/** Whether a file is a TIFF (little or big end first), or a camera's raw file, which is one too. */
export const isTiff = ([a, b, c, d]: Uint8Array): boolean =>
  (a === 0x49 && b === 0x49 && c === 42 && d === 0) || (a === 0x4d && b === 0x4d && c === 0 && d === 42);

const notAPhoto = (name: string) => new InputProblem('This file is not a photo.', name, CHOOSE);
const notOnePicture = (what: string, name: string) =>
  new InputProblem(`This is ${what}, not a photo.`, name, `${CHOOSE.slice(0, -1)}, or save one picture of it as one.`);
const looksLikePhoto = (bytes: Uint8Array) => bytes[0] === 0xff || bytes[0] === 0x89 || bytes[0] === 0x52;

function fail(problem: InputProblem): never {
  throw problem;
}

function ascii(view: DataView, at: number, length: number): string {
  return String.fromCharCode(...Array.from({ length }, (_, i) => view.getUint8(at + i)));
}

/**
 * Size of a JPEG whose end is there, else null. Segments are walked one by one (ITU-T T.81, Annex B): thumbnails inside
 * the file have ends of their own, so searching for the last end mark would not do.
 */
function jpegSize(view: DataView, name: string): Size | null {
  let size: Size | null = null;
  let at = 2;
  while (at + 4 <= view.byteLength) {
    if (view.getUint8(at) !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xd9) return size;
    if (marker === 0xff || (marker >= 0xd0 && marker <= 0xd7) || marker === 1) {
      at += marker === 0xff ? 1 : 2;
      continue;
    }
    const length = view.getUint16(at + 2);
    if (marker === 0xe1 && saysPanorama(view, at + 4, length - 2)) throw panorama(name);
    // Start of frame: C0-CF without the Huffman, arithmetic and JPG tables.
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
      size = { height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    at += 2 + length;
    if (marker === 0xda) at = afterScan(view, at);
  }
  // The end mark may be the very last two bytes.
  return at + 2 <= view.byteLength && view.getUint16(at) === 0xffd9 ? size : null;
}

/** The first marker after a scan's packed data: FF 00 is a packed FF, FF D0-D7 only restart it. */
function afterScan(view: DataView, from: number): number {
  for (let at = from; at + 1 < view.byteLength; at++) {
    if (view.getUint8(at) !== 0xff) continue;
    const next = view.getUint8(at + 1);
    if (next !== 0 && next !== 0xff && (next < 0xd0 || next > 0xd7)) return at;
  }
  return view.byteLength;
}

/** Whether a JPEG's application segment holds what panorama programs write into XMP: the kind of projection (GPano schema). */
function saysPanorama(view: DataView, at: number, length: number): boolean {
  const bytes = new Uint8Array(view.buffer, view.byteOffset + at, Math.min(length, view.byteLength - at));
  const text = new TextDecoder('latin1').decode(bytes);
  return text.startsWith('http://ns.adobe.com/xap') && /GPano:ProjectionType[="'>\s]*(cyl|equi)/.test(text);
}

const panorama = (where: string) =>
  new InputProblem(
    'This is a panorama: the camera was turned while it was taken, so straight lines are bent in it and nothing can be measured.',
    where,
    'Take an ordinary photo from higher up, or one of each end with two cards in both.',
  );

/** Sides longer than this many times the other are a panorama's: cameras take up to 2.2 times, and cutting a photo down is rarely this hard. */
const PANORAMA = 3.2;
/** Fewest pixels a side that show a reference: a marker is found from 18 px. */
const LEAST_SIDE = 100;

/**
 * Checks that a photo has the shape of one that can be measured.
 * @throws InputProblem when it is a panorama, or too small to show anything
 */
export function checkPhotoShape({ width, height }: Size, where: string): void {
  if (Math.min(width, height) < LEAST_SIDE)
    throw new InputProblem(
      `This photo has only ${width} x ${height} pixels: too few to measure by.`,
      where,
      'Use the photo as the camera took it, at full size, not its thumbnail.',
    );
  if (Math.max(width, height) > PANORAMA * Math.min(width, height)) {
    const { message, mend } = panorama(where);
    throw new InputProblem(
      `It is ${width} x ${height} pixels, longer than a camera takes at once. ${message}`,
      where,
      mend,
    );
  }
}

/** Size of a PNG whose IEND chunk is there, else null. */
function pngSize(view: DataView, name: string): Size | null {
  let at = 8;
  while (at + 12 <= view.byteLength) {
    const kind = ascii(view, at + 4, 4);
    if (kind === 'acTL') throw notOnePicture('an animation', name);
    if (kind === 'IEND') return { width: view.getUint32(16), height: view.getUint32(20) };
    at += 12 + view.getUint32(at);
  }
  return null;
}

/** Size of a WebP that is as long as it says, else null. */
function webpSize(view: DataView, name: string): Size | null {
  if (view.byteLength < 8 + view.getUint32(4, true)) return null;
  const kind = ascii(view, 12, 4);
  if (kind === 'VP8X') {
    if (view.getUint8(20) & 2) throw notOnePicture('an animation', name);
    return { width: 1 + uint24(view, 24), height: 1 + uint24(view, 27) };
  }
  if (kind === 'VP8L') {
    const bits = view.getUint32(21, true);
    return { width: 1 + (bits & 0x3fff), height: 1 + ((bits >> 14) & 0x3fff) };
  }
  return { width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
}

const uint24 = (view: DataView, at: number) => view.getUint16(at, true) | (view.getUint8(at + 2) << 16);

/** Size of an AVIF that is as long as its boxes say (ISO/IEC 14496-12), else null: the largest picture that it describes. */
function avifSize(view: DataView): Size | null {
  let size: Size | null = null;
  let at = 0;
  while (at + 8 <= view.byteLength) {
    const length = view.getUint32(at);
    const end = length === 0 ? view.byteLength : at + length;
    if (length !== 0 && length < 8) return null;
    if (end > view.byteLength) return null;
    if (ascii(view, at + 4, 4) === 'meta') size = largestExtent(view, at + 8, end);
    at = end;
  }
  return at === view.byteLength ? size : null;
}

/** The largest of the image extents ("ispe") in a box. */
function largestExtent(view: DataView, from: number, end: number): Size | null {
  let size: Size | null = null;
  for (let at = from; at + 16 <= end; at++) {
    if (view.getUint32(at) !== 0x69737065) continue;
    const [width, height] = [view.getUint32(at + 8), view.getUint32(at + 12)];
    if (!size || width * height > size.width * size.height) size = { width, height };
  }
  return size;
}
