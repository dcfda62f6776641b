import exifr from 'exifr';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, test } from 'vitest';
import { withoutGps } from '../../../src/app/gps/without-gps';

/** Read back by exifr and sharp, which share no code with ours. The tags are written by libvips. */

const pixels = { create: { width: 64, height: 48, channels: 3, background: '#8a5' } } as const;
const HOME = { GPSLatitudeRef: 'N', GPSLatitude: '47/1 22/1 30/1', GPSLongitudeRef: 'E', GPSLongitude: '8/1 33/1 0/1' };
const CAMERA = { Make: 'Maker', Model: 'Phone 3' };

type Kind = 'jpeg' | 'png' | 'webp' | 'avif';

async function photo(gps: boolean, kind: Kind = 'jpeg'): Promise<Uint8Array<ArrayBuffer>> {
  const tags = { IFD0: CAMERA, IFD2: { FocalLengthIn35mmFilm: '26' }, ...(gps && { IFD3: HOME }) };
  return new Uint8Array(await sharp(pixels).withExif(tags).toFormat(kind).toBuffer());
}

/** A segment of another kind put in behind the first two bytes. */
function withNote(bytes: Uint8Array<ArrayBuffer>, note: string): Uint8Array<ArrayBuffer> {
  const text = new TextEncoder().encode(`http://ns.adobe.com/xap/1.0/\0${note}`);
  const length = text.length + 2;
  return new Uint8Array([0xff, 0xd8, 0xff, 0xe1, length >> 8, length & 255, ...text, ...bytes.subarray(2)]);
}

describe('a photo that is handed on', () => {
  test('tells its camera but not its place, and shows the same', async () => {
    const before = await photo(true);
    expect((await exifr.gps(before)).latitude).toBeCloseTo(47.375, 3);
    const after = withoutGps(before);
    const gps = await exifr.gps(after);
    expect(gps?.latitude ?? Number.NaN).toBeNaN();
    expect(await exifr.parse(after, { gps: true })).not.toHaveProperty('GPSLatitudeRef');
    expect(await exifr.parse(after)).toMatchObject({ ...CAMERA, FocalLengthIn35mmFormat: 26 });
    const raw = (bytes: Uint8Array) => sharp(bytes).raw().toBuffer();
    expect((await raw(after)).equals(await raw(before))).toBe(true);
    expect(Buffer.from(after).includes(Buffer.from([0, 0, 0, 47, 0, 0, 0, 1]))).toBe(false);
  });

  test.each(['jpeg', 'png', 'webp', 'avif'] as const)(
    'as a %s tells nothing of its place in any of its bytes, opens, and shows the same',
    async (kind) => {
      const before = await photo(true, kind);
      const place = (bytes: Uint8Array) =>
        // 47 degrees and 8 degrees, as fractions of either order of bytes.
        [
          [0, 0, 0, 47, 0, 0, 0, 1],
          [47, 0, 0, 0, 1, 0, 0, 0],
          [0, 0, 0, 33, 0, 0, 0, 1],
          [33, 0, 0, 0, 1, 0, 0, 0],
        ].some((fraction) => Buffer.from(bytes).includes(Buffer.from(fraction)));
      expect(place(before)).toBe(true);
      const after = withoutGps(before);
      expect(place(after)).toBe(false);
      const raw = (bytes: Uint8Array) => sharp(bytes, { failOn: 'warning' }).raw().toBuffer();
      expect((await raw(after)).equals(await raw(before))).toBe(true);
      const { exif } = await sharp(after).metadata();
      const tiff = exif?.subarray(exif.toString('latin1', 0, 4) === 'Exif' ? 6 : 0);
      expect(await exifr.parse(tiff as Buffer)).toMatchObject(CAMERA);
      expect(withoutGps(after)).toBe(after);
      const plain = await photo(false, kind);
      expect(withoutGps(plain)).toBe(plain);
    },
  );

  test.each(['png', 'webp', 'avif'] as const)('as a %s loses XMP that speaks of a place', async (kind) => {
    const xmp = (note: string) =>
      `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:exif="http://ns.adobe.com/exif/1.0/" xmlns:dc="http://purl.org/dc/elements/1.1/" ${note}/></rdf:RDF></x:xmpmeta>`;
    const noted = async (note: string) =>
      new Uint8Array(await sharp(pixels).withXmp(xmp(note)).toFormat(kind).toBuffer());
    const placeOf = async (bytes: Uint8Array) => /47,22N/.test((await sharp(bytes).metadata()).xmpAsString ?? '');
    const told = await noted('exif:GPSLatitude="47,22N"');
    expect(await placeOf(told)).toBe(true);
    const after = withoutGps(told);
    expect(await placeOf(after)).toBe(false);
    expect((await sharp(after, { failOn: 'warning' }).raw().toBuffer()).length).toBe(64 * 48 * 3);
    // In a PNG it is packed, and what cannot be looked into is left out.
    const slab = await noted('dc:title="Slab"');
    if (kind !== 'png') expect(withoutGps(slab)).toBe(slab);
  });

  test('loses other notes only where they speak of a place', async () => {
    const plain = await photo(false);
    expect(withoutGps(withNote(plain, '<exif:GPSLatitude>47,22N</exif:GPSLatitude>'))).toEqual(plain);
    const noted = withNote(plain, '<dc:title>Slab</dc:title>');
    expect(withoutGps(noted)).toBe(noted);
  });

  test('that is damaged is refused by nothing and tells no more than before', async () => {
    const whole = await photo(true);
    const damage = fc.array(fc.tuple(fc.nat({ max: whole.length - 1 }), fc.nat({ max: 255 })), { maxLength: 12 });
    fc.assert(
      fc.property(damage, fc.nat({ max: whole.length }), (changes, length) => {
        const bytes = whole.slice(0, length);
        for (const [at, value] of changes) if (at < length) bytes[at] = value;
        expect(withoutGps(bytes).length).toBeLessThanOrEqual(bytes.length);
      }),
      { numRuns: 300 },
    );
  });
});
