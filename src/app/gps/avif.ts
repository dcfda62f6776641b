import { type Bytes, exifWithoutGps, speaksOfGps } from './exif';

/** How Exif begins: the order of its bytes, and 42. In packed pictures these four stand by chance, once in some thousand megabytes. */
const LITTLE = [0x49, 0x49, 42, 0];
const BIG = [0x4d, 0x4d, 0, 42];
const XMP_BEGINS = [...'<x:xmpmeta'].map((c) => c.charCodeAt(0));
const XMP_ENDS = [...'</x:xmpmeta>'].map((c) => c.charCodeAt(0));
const SPACE = 0x20;

/**
 * An AVIF without its place. Its notes lie somewhere among its data, and tables far off say where (ISO/IEC 23008-12): so they are blanked where
 * they stand, and nothing is moved.
 */
export function avifWithoutGps(bytes: Bytes): Bytes {
  let clean = bytes;
  for (const sign of [LITTLE, BIG])
    for (let at = indexOf(bytes, sign, 0); at >= 0; at = indexOf(bytes, sign, at + 1))
      clean = exifWithoutGps(clean, at) ?? clean;
  for (let at = indexOf(bytes, XMP_BEGINS, 0); at >= 0; at = indexOf(bytes, XMP_BEGINS, at + 1)) {
    const close = indexOf(bytes, XMP_ENDS, at);
    const end = close < 0 ? bytes.length : close + XMP_ENDS.length;
    if (close < 0 || !speaksOfGps(bytes.subarray(at, end))) continue;
    if (clean === bytes) clean = bytes.slice();
    clean.fill(SPACE, at, end);
  }
  return clean;
}

function indexOf(bytes: Uint8Array, sought: readonly number[], from: number): number {
  for (let at = bytes.indexOf(sought[0] as number, from); at >= 0; at = bytes.indexOf(sought[0] as number, at + 1))
    if (sought.every((byte, i) => bytes[at + i] === byte)) return at;
  return -1;
}
