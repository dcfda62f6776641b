/** Where a photo was taken, taken out of it: a job file that is handed on does not tell where the maker lives. */

const EXIF = 'Exif\0\0';
/** Tag of the pointer to the GPS tags, and bytes of each field type (Exif 3.0, 4.6.2 and 4.6.3). */
const GPS_POINTER = 0x8825;
const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8];

const START_OF_IMAGE = 0xffd8;
const APP1 = 0xffe1;
const START_OF_SCAN = 0xffda;

/**
 * A JPEG whose Exif has its GPS tags blanked and whose other notes (XMP) are left out where they speak of GPS; the picture and all else
 * stay byte for byte. What is no JPEG comes back as it is. Exif that cannot be read is left out whole.
 */
export function withoutGps(bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 4 || view.getUint16(0) !== START_OF_IMAGE) return bytes;
  const kept: Uint8Array[] = [bytes.subarray(0, 2)];
  let at = 2;
  let changed = false;
  while (at + 4 <= bytes.length) {
    const marker = view.getUint16(at);
    const end = at + 2 + view.getUint16(at + 2);
    if (marker === START_OF_SCAN || marker < 0xff01 || end > bytes.length) break;
    const segment = bytes.slice(at, end);
    const clean = marker === APP1 ? withoutGpsNote(segment) : segment;
    changed ||= clean !== segment;
    if (clean) kept.push(clean);
    at = end;
  }
  return changed ? joined([...kept, bytes.subarray(at)]) : bytes;
}

/** An APP1 segment without GPS: itself where it has none, null where it is left out. */
function withoutGpsNote(segment: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> | null {
  const text = (from: number, to: number) => String.fromCharCode(...segment.subarray(from, to));
  if (text(4, 4 + EXIF.length) === EXIF) {
    try {
      return blanked(segment, 4 + EXIF.length);
    } catch {
      return null;
    }
  }
  return new TextDecoder('latin1').decode(segment).includes('GPS') ? null : segment;
}

/** Exif with its GPS tags blanked: the pointer stays, and leads to a list of none. @throws RangeError where a tag leads out of it */
function blanked(segment: Uint8Array<ArrayBuffer>, tiff: number): Uint8Array<ArrayBuffer> {
  const copy = segment.slice();
  const view = new DataView(copy.buffer, tiff);
  const little = view.getUint16(0) === 0x4949;
  const list = (at: number) =>
    Array.from({ length: view.getUint16(at, little) }, (_, i) => {
      const entry = at + 2 + 12 * i;
      const bytes = (TYPE_BYTES[view.getUint16(entry + 2, little)] ?? 1) * view.getUint32(entry + 4, little);
      return { entry, tag: view.getUint16(entry, little), bytes, value: view.getUint32(entry + 8, little) };
    });
  const gps = list(view.getUint32(4, little)).find(({ tag }) => tag === GPS_POINTER);
  if (!gps) return segment;
  for (const { entry, bytes, value } of list(gps.value)) {
    if (bytes > 4) {
      if (value + bytes > view.byteLength) throw new RangeError('a GPS tag leads out of the Exif');
      copy.fill(0, tiff + value, tiff + value + bytes);
    }
    copy.fill(0, tiff + entry, tiff + entry + 12);
  }
  view.setUint16(gps.value, 0, little);
  return copy;
}

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
