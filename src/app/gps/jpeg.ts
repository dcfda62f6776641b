import { joinedBytes } from '../../job';
import { type Bytes, charsOf, exifWithoutGps, speaksOfGps } from './exif';

const EXIF = 'Exif\0\0';
const APP1 = 0xffe1;
const START_OF_SCAN = 0xffda;

/** A JPEG without its place: what says it stands in segments before the picture. */
export function jpegWithoutGps(bytes: Bytes): Bytes {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kept: Uint8Array[] = [bytes.subarray(0, 2)];
  let at = 2;
  let changed = false;
  while (at + 4 <= bytes.length) {
    const marker = view.getUint16(at);
    const end = at + 2 + view.getUint16(at + 2);
    if (marker === START_OF_SCAN || marker < 0xff01 || end > bytes.length) break;
    const segment = bytes.slice(at, end);
    const clean = marker === APP1 ? noteWithoutGps(segment) : segment;
    changed ||= clean !== segment;
    if (clean) kept.push(clean);
    at = end;
  }
  return changed ? joinedBytes([...kept, bytes.subarray(at)]) : bytes;
}

/** A segment of notes without GPS: itself where it has none, null where it is left out. */
function noteWithoutGps(segment: Bytes): Bytes | null {
  if (charsOf(segment, 4, 4 + EXIF.length) === EXIF) return exifWithoutGps(segment, 4 + EXIF.length);
  return speaksOfGps(segment) ? null : segment;
}
