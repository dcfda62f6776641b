import { avifWithoutGps } from './avif';
import { jpegWithoutGps } from './jpeg';
import { pngWithoutGps } from './png';
import { webpWithoutGps } from './webp';

/**
 * Where a photo was taken, taken out of it: a job file that is handed on does not tell where the maker lives. Exif has its GPS tags blanked, and
 * is left out whole where it cannot be read; XMP is left out where it speaks of GPS, or cannot be read. The picture and all else stay byte
 * for byte, and a photo that tells no place comes back as it is.
 */
export function withoutGps(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const [a, b, c, d] = bytes;
  if (a === 0xff && b === 0xd8) return jpegWithoutGps(bytes);
  if (a === 0x89 && b === 0x50 && c === 0x4e && d === 0x47) return pngWithoutGps(bytes);
  const head = String.fromCharCode(...bytes.subarray(0, 12));
  if (head.startsWith('RIFF') && head.endsWith('WEBP')) return webpWithoutGps(bytes);
  return head.slice(4, 8) === 'ftyp' ? avifWithoutGps(bytes) : bytes;
}
