import exifr from 'exifr';
import fc from 'fast-check';
import sharp from 'sharp';
import { beforeAll, expect, test } from 'vitest';
import { withoutGps } from '../../src/app/gps/without-gps';
import { decodePhoto } from '../../src/cli/photo-file';
import { checkPhotoFile } from '../../src/photo';
import { LONG, metWith, RUNS } from './runs';

/** Everything that opens a photo, against files that were cut, changed, misnamed or made to do harm. */

type Bytes = Uint8Array<ArrayBuffer>;
const [WIDTH, HEIGHT] = [40, 30];
let wholes: readonly Bytes[];

beforeAll(async () => {
  const grain = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, i) => (i * i * 7) % 251);
  const picture = () => sharp(grain, { raw: { width: WIDTH, height: HEIGHT, channels: 3 } });
  const exif = {
    IFD0: { Make: 'Maker', Orientation: '6' },
    IFD2: { FocalLengthIn35mmFilm: '26' },
    IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 12/1', GPSLongitudeRef: 'E', GPSLongitude: '10/1 5/1 0/1' },
  };
  wholes = await Promise.all(
    [
      picture().withExif(exif).jpeg(),
      picture().withExif(exif).jpeg({ progressive: true }),
      picture().withExif(exif).png(),
      picture().withExif(exif).webp(),
      picture().withExif(exif).webp({ lossless: true }),
      picture().withExif(exif).avif({ effort: 0 }),
      picture().gif(),
      picture().tiff(),
    ].map(async (one) => Uint8Array.from(await one.toBuffer())),
  );
});

/** Sizes, lengths and offsets that a header may claim. */
const CLAIMS = [0, 1, 2, 0x7f, 0xff, 0x7fff, 0xffff, 0x7fffffff, 0xffffffff];
const place = fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true });
const change = fc.oneof(
  fc.tuple(fc.constant('flip'), place, fc.integer({ min: 1, max: 255 })),
  fc.tuple(fc.constant('cut'), place, place),
  fc.tuple(fc.constant('end'), place, place),
  fc.tuple(fc.constant('double'), place, place),
  fc.tuple(fc.constant('fill'), place, place),
  // Near the beginning stand sizes, Exif and offsets.
  fc.tuple(fc.constant('claim 2'), place, fc.constantFrom(...CLAIMS)),
  fc.tuple(fc.constant('claim 4'), place, fc.constantFrom(...CLAIMS)),
);

function changed(bytes: Bytes, [how, a, b]: readonly [string, number, number]): Bytes {
  const from = Math.floor(a * bytes.length);
  const to = Math.floor(Math.max(a, b) * bytes.length);
  const copy = Uint8Array.from(bytes);
  const view = new DataView(copy.buffer);
  const head = Math.floor(a * Math.min(400, bytes.length));
  if (how === 'cut') return Uint8Array.from([...bytes.subarray(0, from), ...bytes.subarray(to)]);
  if (how === 'end') return bytes.slice(0, from);
  if (how === 'double') return Uint8Array.from([...bytes.subarray(0, to), ...bytes.subarray(from)]);
  if (how === 'fill') copy.fill(0xff, from, to);
  if (how === 'flip') copy[from] = (copy[from] ?? 0) ^ b;
  if (how === 'claim 2' && head + 2 <= copy.length) view.setUint16(head, b & 0xffff);
  if (how === 'claim 4' && head + 4 <= copy.length) view.setUint32(head, b);
  return copy;
}

const spoilt = fc
  .tuple(fc.nat(7), fc.array(change, { maxLength: 4 }))
  .map(([which, changes]) => changes.reduce(changed, wholes[which] as Bytes));
const anyFile = fc.oneof(
  { weight: 6, arbitrary: spoilt },
  { weight: 1, arbitrary: fc.uint8Array({ maxLength: 300 }).map((bytes) => Uint8Array.from(bytes)) },
  {
    weight: 1,
    arbitrary: fc.tuple(fc.nat(7), fc.nat(7), place).map(([one, other, at]) => {
      const [head, tail] = [wholes[one] as Bytes, wholes[other] as Bytes];
      const cut = Math.floor(at * head.length);
      return Uint8Array.from([...head.subarray(0, cut), ...tail.subarray(cut)]);
    }),
  },
);

test(
  'a photo from anywhere is a picture of a bearable size, or gets a sentence, by what the app asks and by the command line',
  LONG,
  async () => {
    await fc.assert(
      fc.asyncProperty(anyFile, async (bytes) => {
        const size = await metWith(() => checkPhotoFile(bytes, 'a.jpg'));
        if (size) expect(size.width * size.height).toBeLessThanOrEqual(100e6);
        const photo = await metWith(() => decodePhoto(bytes, 'a.jpg'));
        if (!photo) return;
        const { width, height, channels, data } = photo.raster;
        expect(data.length).toBe(width * height * channels);
        expect(width * height).toBeLessThanOrEqual(100e6);
      }),
      { numRuns: RUNS },
    );
  },
);

test('no photo tells its place once that is taken out, however its notes are broken', LONG, async () => {
  await fc.assert(
    fc.asyncProperty(spoilt, async (bytes) => {
      const clean = await metWith(() => withoutGps(bytes));
      expect(clean).not.toBeNull();
      // Of what no job can hold nothing is handed on.
      if (!(await metWith(() => checkPhotoFile(bytes, 'a.jpg')))) return;
      const told = await exifr.gps(clean as Bytes).catch(() => undefined);
      expect(Number.isFinite(told?.latitude)).toBe(false);
    }),
    { numRuns: RUNS },
  );
});
