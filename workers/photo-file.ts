import { InputProblem } from '../src/units';

/**
 * What a photo's file says of itself, before anything is decoded: a picture of 200 million points would take 800 MB and
 * the tab with it, and browsers decode the upper half of a cut-off photo without a word.
 */

/** Most pixels that are decoded. Phones take 12 to 50 million; 100 million fill 400 MB. */
const MOST_PIXELS = 100e6;

const SEND_JPEG =
  'Send it as a JPEG: on an iPhone choose Settings, Camera, Formats, Most Compatible, or share the photo as JPEG.';
const CHOOSE = 'Choose a JPEG, PNG or WebP photo.';

interface Size {
  width: number;
  height: number;
}

/**
 * Checks that `bytes` are a whole JPEG, PNG or WebP of a bearable size.
 * @throws InputProblem with `name` as its place
 */
export function checkPhotoFile(bytes: Uint8Array, name: string): Size {
  if (bytes.length === 0) throw new InputProblem('This file is empty (0 bytes).', name, 'Choose the photo again.');
  const size = sizeOf(bytes, name);
  if (size.width * size.height > MOST_PIXELS) {
    const million = Math.round((size.width * size.height) / 1e6);
    throw new InputProblem(
      `This photo has ${million} million pixels; up to ${MOST_PIXELS / 1e6} million can be read.`,
      name,
      'Take it at a lower resolution (12 million are plenty), or make it smaller first.',
    );
  }
  return size;
}

function sizeOf(bytes: Uint8Array, name: string): Size {
  const cut = () => new InputProblem('This photo is cut short: its end is missing.', name, 'Copy or send it again.');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    if (view.getUint16(0) === 0xffd8) return jpegSize(view) ?? fail(cut());
    if (ascii(view, 1, 3) === 'PNG') return pngSize(view) ?? fail(cut());
    if (ascii(view, 0, 4) === 'RIFF' && ascii(view, 8, 4) === 'WEBP') return webpSize(view) ?? fail(cut());
    if (ascii(view, 4, 4) === 'ftyp' && /^(hei|hev|mif|msf)/.test(ascii(view, 8, 4)))
      throw new InputProblem('This is a HEIC photo, which browsers cannot open.', name, SEND_JPEG);
  } catch (error) {
    if (error instanceof RangeError) throw looksLikePhoto(bytes) ? cut() : notAPhoto(name);
    throw error;
  }
  throw notAPhoto(name);
}

const notAPhoto = (name: string) => new InputProblem('This file is not a photo.', name, CHOOSE);
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
function jpegSize(view: DataView): Size | null {
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
    // Start of frame: C0-CF without the Huffman, arithmetic and JPG tables.
    if (marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc)
      size = { height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    at += 2 + view.getUint16(at + 2);
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

/** Size of a PNG whose IEND chunk is there, else null. */
function pngSize(view: DataView): Size | null {
  let at = 8;
  while (at + 12 <= view.byteLength) {
    if (ascii(view, at + 4, 4) === 'IEND') return { width: view.getUint32(16), height: view.getUint32(20) };
    at += 12 + view.getUint32(at);
  }
  return null;
}

/** Size of a WebP that is as long as it says, else null. */
function webpSize(view: DataView): Size | null {
  if (view.byteLength < 8 + view.getUint32(4, true)) return null;
  const kind = ascii(view, 12, 4);
  if (kind === 'VP8X') return { width: 1 + uint24(view, 24), height: 1 + uint24(view, 27) };
  if (kind === 'VP8L') {
    const bits = view.getUint32(21, true);
    return { width: 1 + (bits & 0x3fff), height: 1 + ((bits >> 14) & 0x3fff) };
  }
  return { width: view.getUint16(26, true) & 0x3fff, height: view.getUint16(28, true) & 0x3fff };
}

const uint24 = (view: DataView, at: number) => view.getUint16(at, true) | (view.getUint8(at + 2) << 16);
