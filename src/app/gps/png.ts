import { crc32, joinedBytes } from '../../job';
import { type Bytes, charsOf, exifWithoutGps, speaksOfGps } from './exif';

/** Texts in which programs keep Exif and XMP: some packed, and then not looked into. */
const NOTES = /^(XML:com\.adobe\.xmp|Raw profile type )/;
const HEAD = 8;

/** A PNG without its place: Exif in a chunk of its own, other notes in texts (PNG third edition, 5.3 and 11.3). */
export function pngWithoutGps(bytes: Bytes): Bytes {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const kept: Uint8Array[] = [bytes.subarray(0, HEAD)];
  let at = HEAD;
  let changed = false;
  while (at + 12 <= bytes.length) {
    const end = at + 12 + view.getUint32(at);
    if (end > bytes.length) break;
    const chunk = bytes.slice(at, end);
    const clean = chunkWithoutGps(chunk);
    changed ||= clean !== chunk;
    if (clean) kept.push(clean);
    at = end;
  }
  return changed ? joinedBytes([...kept, bytes.subarray(at)]) : bytes;
}

function chunkWithoutGps(chunk: Bytes): Bytes | null {
  const kind = charsOf(chunk, 4, 8);
  if (kind === 'eXIf') {
    const clean = exifWithoutGps(chunk, HEAD);
    // Its sum of figures is over kind and data.
    if (clean && clean !== chunk)
      new DataView(clean.buffer).setUint32(clean.length - 4, crc32(clean.subarray(4, clean.length - 4)));
    return clean;
  }
  const isNote = /^[itz]TXt$/.test(kind) && NOTES.test(charsOf(chunk, HEAD, HEAD + 40));
  const isPacked = kind === 'zTXt' || !charsOf(chunk, HEAD, HEAD + 4).startsWith('XML');
  const isPackedXmp = kind === 'iTXt' && chunk[HEAD + 'XML:com.adobe.xmp'.length + 1] !== 0;
  return isNote && (isPacked || isPackedXmp || speaksOfGps(chunk)) ? null : chunk;
}
