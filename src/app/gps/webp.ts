import { joinedBytes } from '../../job';
import { type Bytes, charsOf, exifWithoutGps, speaksOfGps } from './exif';

const EXIF = 'Exif\0\0';
const [HEAD, CHUNK] = [12, 8];
/** Flags by which the first chunk says which notes follow (WebP container specification, extended file format). */
const FLAGS = { EXIF: 8, 'XMP ': 4 } as const;

/** A WebP without its place: notes stand in chunks of their own. */
export function webpWithoutGps(bytes: Bytes): Bytes {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kept: Uint8Array[] = [];
  let at = HEAD;
  let changed = false;
  let left = 0;
  while (at + CHUNK <= bytes.length) {
    const size = view.getUint32(at + 4, true);
    // Chunks of an odd length are filled up; the last one may lack that.
    const end = Math.min(at + CHUNK + size + (size & 1), bytes.length);
    if (at + CHUNK + size > bytes.length) break;
    const chunk = bytes.slice(at, end);
    const kind = charsOf(chunk, 0, 4);
    const clean = chunkWithoutGps(chunk, kind);
    changed ||= clean !== chunk;
    if (clean) kept.push(clean);
    else left |= FLAGS[kind as keyof typeof FLAGS];
    at = end;
  }
  if (!changed) return bytes;
  const head = bytes.slice(0, HEAD);
  const whole = joinedBytes([head, ...kept, bytes.subarray(at)]);
  new DataView(whole.buffer).setUint32(4, whole.length - CHUNK, true);
  if (charsOf(whole, HEAD, HEAD + 4) === 'VP8X') whole[HEAD + CHUNK] = (whole[HEAD + CHUNK] ?? 0) & ~left;
  return whole;
}

function chunkWithoutGps(chunk: Bytes, kind: string): Bytes | null {
  if (kind === 'EXIF') {
    const named = charsOf(chunk, CHUNK, CHUNK + EXIF.length) === EXIF;
    return exifWithoutGps(chunk, CHUNK + (named ? EXIF.length : 0));
  }
  return kind === 'XMP ' && speaksOfGps(chunk) ? null : chunk;
}
