import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { decodePhoto, decodeToMeasure, readPhoto, toPng } from '../../src/cli/photo-file';
import { worstOf } from '../photo/blocks';
import { READABLE, REFUSED } from '../photo/photo-kinds';

/** A picture of 4 x 2 whose pixels all differ: red grows to the right, green downwards. */
const [WIDTH, HEIGHT] = [4, 2];
const PIXELS = Uint8Array.from({ length: WIDTH * HEIGHT * 3 }, (_, i) => {
  const [x, y] = [Math.floor(i / 3) % WIDTH, Math.floor(i / 3 / WIDTH)];
  return [x * 80, y * 200, 128][i % 3] as number;
});
const picture = (channels: 1 | 2 | 3 | 4 = 3, data: Uint8Array = PIXELS) =>
  sharp(data, { raw: { width: WIDTH, height: data.length / channels / WIDTH, channels } });

const pixelsOf = async (bytes: Uint8Array) => Array.from((await decodePhoto(bytes, 'a')).raster.data);
const problemOf = (bytes: Uint8Array) =>
  decodePhoto(bytes, 'a.jpg').then(
    () => null,
    (error: { name: string; where: string; message: string }) => error,
  );

describe('decoding a photo', () => {
  it('gives the pixels of a PNG, of 8 bits or 16', async () => {
    expect(await pixelsOf(await picture().png().toBuffer())).toEqual([...PIXELS]);
    expect(await pixelsOf(await picture().toColourspace('rgb16').png().toBuffer())).toEqual([...PIXELS]);
  });

  it('gives grey as RGB', async () => {
    const grey = Uint8Array.from({ length: 8 }, (_, i) => i * 30);
    const wanted = [...grey].flatMap((g) => [g, g, g]);
    expect(await pixelsOf(await picture(1, grey).png().toBuffer())).toEqual(wanted);
    expect(await pixelsOf(await picture(1, grey).toColourspace('grey16').png().toBuffer())).toEqual(wanted);
  });

  it('lays transparency on white', async () => {
    const clear = Uint8Array.from({ length: WIDTH * HEIGHT * 4 }, (_, i) => (i % 4 === 3 ? 0 : 10));
    expect(new Set(await pixelsOf(await picture(4, clear).png().toBuffer()))).toEqual(new Set([255]));
  });

  it('takes the four inks of a print for the colours that they make', async () => {
    const large = await picture()
      .resize(64, 32, { kernel: 'nearest' })
      .toColourspace('cmyk')
      .jpeg({ quality: 100 })
      .toBuffer();
    expect((await sharp(large).metadata()).space).toBe('cmyk');
    const { raster } = await decodePhoto(large, 'a');
    // Well inside the last block of the upper row: red 240, green 0.
    const at = (4 * raster.width + 60) * 3;
    expect(raster.data[at]).toBeGreaterThan(180);
    expect(raster.data[at + 1]).toBeLessThan(80);
  });

  it('applies the orientation of the camera once', async () => {
    for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8]) {
      const turned = await decodePhoto(await picture().png().withMetadata({ orientation }).toBuffer(), 'a');
      const { width, height, data } = turned.raster;
      expect([width, height]).toEqual(orientation < 5 ? [WIDTH, HEIGHT] : [HEIGHT, WIDTH]);
      // Where the stored picture's first pixel (no red, no green) is seen: EXIF 2.3, orientation tag.
      const [right, bottom] = [width - 1, (height - 1) * width];
      const corner = [0, 0, right, right + bottom, bottom, 0, right, right + bottom, bottom][orientation] as number;
      expect([data[corner * 3], data[corner * 3 + 1]], `orientation ${orientation}`).toEqual([0, 0]);
    }
  });

  it('reads the focal length from EXIF where there is one', async () => {
    const bytes = await picture()
      .jpeg()
      .withExif({ IFD2: { FocalLengthIn35mmFilm: '26' } })
      .toBuffer();
    expect((await decodePhoto(bytes, 'a')).focal35).toBe(26);
    expect((await decodePhoto(await picture().jpeg().toBuffer(), 'a')).focal35).toBeUndefined();
  });

  it('refuses what is no photo, empty, HEIC, a drawing or an animation', async () => {
    const heic = Uint8Array.from([0, 0, 0, 24, ...new TextEncoder().encode('ftypheic'), ...new Uint8Array(40)]);
    for (const [bytes, said] of [
      [new Uint8Array(0), /0 bytes/],
      [new TextEncoder().encode('hello, this is no photo'), /not a photo/],
      [new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>'), /not a photo/],
      [await picture().gif().toBuffer(), /not a photo/],
      [heic, /HEIC/],
    ] as const)
      expect(await problemOf(bytes)).toMatchObject({
        name: 'InputProblem',
        where: 'a.jpg',
        message: expect.stringMatching(said),
      });
  });

  it('refuses a JPEG that is cut short anywhere', async () => {
    const whole = await readFile('demo-images/slab-2.jpg');
    for (const share of [0.001, 0.1, 0.5, 0.9, 0.999])
      expect(await problemOf(whole.subarray(0, Math.floor(whole.length * share))), `${share}`).toMatchObject({
        name: 'InputProblem',
      });
  });

  it('refuses more than 100 million pixels', async () => {
    const huge = await sharp({ create: { width: 20_000, height: 5001, channels: 3, background: '#888' } })
      .png({ compressionLevel: 1 })
      .toBuffer();
    expect(await problemOf(huge)).toMatchObject({ message: expect.stringMatching(/100 million/) });
  });

  it('reads the demo photo with its focal length', async () => {
    const { raster, focal35 } = await readPhoto('demo-images/slab-2.jpg', 'slab-2.jpg');
    expect([raster.width, raster.height, raster.channels, focal35]).toEqual([4000, 3000, 3, 29]);
  });
});

describe('photos of every kind, as the app meets them too (tests/workers/decode.browser.test.ts)', () => {
  it.each(READABLE)('reads $name', async ({ bytes, within, grey }) => {
    const { raster } = await decodePhoto(await bytes(), 'a');
    expect(worstOf(raster, grey)).toBeLessThanOrEqual(within);
  });

  it.each(REFUSED)('refuses $name', async ({ bytes, said }) => {
    const problem = await decodePhoto(await bytes(), 'a.jpg').then(
      () => null,
      (error: unknown) => error,
    );
    expect(problem).toMatchObject({ name: 'InputProblem', where: 'a.jpg', message: expect.stringMatching(said) });
    expect(problem).toMatchObject({ mend: expect.stringMatching(/\.$/) });
  });

  it('reads a large photo to be measured from a smaller copy of the same shape', async () => {
    const large = sharp({ create: { width: 5000, height: 4000, channels: 3, background: '#765' } });
    const { raster, full } = await decodeToMeasure(await large.jpeg().toBuffer(), 'a');
    expect(full).toEqual({ width: 5000, height: 4000 });
    expect(raster.width * raster.height).toBeLessThan(12.7e6);
    expect(raster.width / raster.height).toBe(5000 / 4000);
  });
});

describe('writing a PNG', () => {
  it('keeps every pixel, with the same bytes each time', async () => {
    const raster = { width: WIDTH, height: HEIGHT, channels: 3 as const, data: PIXELS };
    const bytes = await toPng(raster);
    expect(await pixelsOf(bytes)).toEqual([...PIXELS]);
    expect(await toPng(raster)).toEqual(bytes);
  });
});
