/** Exif as it stands in a photo of any kind: a small TIFF. */

export type Bytes = Uint8Array<ArrayBuffer>;

/** Tag of the pointer to the GPS tags, and bytes of each field type (Exif 3.0, 4.6.2 and 4.6.3). */
const GPS_POINTER = 0x8825;
const TYPE_BYTES = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8];

/**
 * Blanks the GPS tags of Exif that begins at `tiff`, where they stand: the pointers stay, and lead to a list of none.
 * @returns the same bytes where it has none, else a copy @throws RangeError where a tag leads out of it
 */
export function withBlankedGps(bytes: Bytes, tiff: number): Bytes {
  const copy = bytes.slice();
  const view = new DataView(copy.buffer, tiff);
  const order = view.getUint16(0);
  if (order !== 0x4949 && order !== 0x4d4d) throw new RangeError('no Exif');
  const little = order === 0x4949;
  const list = (at: number) =>
    Array.from({ length: view.getUint16(at, little) }, (_, i) => {
      const entry = at + 2 + 12 * i;
      const size = (TYPE_BYTES[view.getUint16(entry + 2, little)] ?? 1) * view.getUint32(entry + 4, little);
      return { entry, tag: view.getUint16(entry, little), size, value: view.getUint32(entry + 8, little) };
    });
  let found = false;
  const seen = new Set<number>();
  // Lists follow one another; a broken one may lead back to itself.
  for (let at = view.getUint32(4, little); at !== 0 && !seen.has(at); ) {
    seen.add(at);
    const entries = list(at);
    for (const pointer of entries.filter(({ tag }) => tag === GPS_POINTER)) {
      for (const { entry, size, value } of list(pointer.value)) {
        if (size > 4) {
          if (value + size > view.byteLength) throw new RangeError('a GPS tag leads out of the Exif');
          copy.fill(0, tiff + value, tiff + value + size);
        }
        copy.fill(0, tiff + entry, tiff + entry + 12);
        found = true;
      }
      view.setUint16(pointer.value, 0, little);
    }
    const next = at + 2 + 12 * entries.length;
    at = next + 4 <= view.byteLength ? view.getUint32(next, little) : 0;
  }
  return found ? copy : bytes;
}

/** Exif of its own without GPS: itself where it has none, null where it cannot be read and is left out. */
export function exifWithoutGps(bytes: Bytes, tiff: number): Bytes | null {
  try {
    return withBlankedGps(bytes, tiff);
  } catch {
    return null;
  }
}

/** Whether a note of the kind that programs write (XMP) speaks of a place. */
export const speaksOfGps = (note: Uint8Array): boolean => new TextDecoder('latin1').decode(note).includes('GPS');

/** Characters of some bytes. */
export const charsOf = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, to));
