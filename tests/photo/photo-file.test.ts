import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { checkPhotoFile, checkPhotoShape } from '../../src/photo';
import { InputProblem } from '../../src/units';

const picture = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: '#765' } });
const check = (bytes: Uint8Array) => checkPhotoFile(bytes, 'a.jpg');
const message = (bytes: Uint8Array): string => {
  try {
    check(bytes);
    return '';
  } catch (error) {
    if (!(error instanceof InputProblem)) throw error;
    expect(error.where).toBe('a.jpg');
    expect(error.mend).not.toBe('');
    return error.message;
  }
};

/** The head of a JPEG that claims a size, as a stranger could write it. */
function claiming(width: number, height: number, whole: Uint8Array): Uint8Array {
  const bytes = Uint8Array.from(whole);
  const at = bytes.findIndex((b, i) => b === 0xff && (bytes[i + 1] === 0xc0 || bytes[i + 1] === 0xc2));
  new DataView(bytes.buffer).setUint16(at + 5, height);
  new DataView(bytes.buffer).setUint16(at + 7, width);
  return bytes;
}

describe("a photo's file", () => {
  it.each(['jpeg', 'png', 'webp'] as const)('tells the size of a %s', async (format) => {
    expect(check(await picture(321, 123).toFormat(format).toBuffer())).toEqual({ width: 321, height: 123 });
  });

  it('tells the size of a progressive JPEG and of a WebP without loss', async () => {
    expect(check(await picture(64, 48).jpeg({ progressive: true }).toBuffer())).toEqual({ width: 64, height: 48 });
    expect(check(await picture(640, 480).webp({ lossless: true }).toBuffer())).toEqual({ width: 640, height: 480 });
  });

  it('tells the size of the demo photos', () => {
    expect(check(readFileSync('demo-images/slab-2.jpg'))).toEqual({ width: 4000, height: 3000 });
  });

  it('does not take the end of a thumbnail inside the file for the end of the photo', async () => {
    const thumbnail = await picture(16, 12).jpeg().toBuffer();
    const photo = await picture(200, 100).jpeg().toBuffer();
    const segment = Buffer.alloc(4);
    segment.writeUInt16BE(0xffe1, 0);
    segment.writeUInt16BE(thumbnail.length + 2, 2);
    const carrying = Buffer.concat([photo.subarray(0, 2), segment, thumbnail, photo.subarray(2)]);
    expect(check(carrying)).toEqual({ width: 200, height: 100 });
    expect(message(carrying.subarray(0, carrying.length - 2))).toMatch(/cut short/);
  });

  it.each(['jpeg', 'png', 'webp'] as const)('refuses a %s that is cut off anywhere', async (format) => {
    const whole = await sharp('demo-images/slab-2.jpg').resize(300).toFormat(format).toBuffer();
    fc.assert(
      fc.property(fc.integer({ min: 12, max: whole.length - 1 }), (length) => {
        expect(message(whole.subarray(0, length))).toMatch(/cut short|not a photo/);
      }),
    );
  });

  it('refuses 200 million pixels before it decodes any, and takes 50 million', async () => {
    const photo = await picture(32, 32).jpeg().toBuffer();
    expect(message(claiming(16384, 12288, photo))).toMatch(/201 million pixels; up to 100 million/);
    expect(message(claiming(8192, 6144, photo))).toBe('');
  });

  it('refuses what is empty, what is no photo, and HEIC, each with its own sentence', () => {
    expect(message(new Uint8Array())).toMatch(/empty/);
    expect(message(new TextEncoder().encode('{"schema":1}'))).toMatch(/not a photo/);
    expect(message(new TextEncoder().encode('\0\0\0\x18ftypheic\0\0\0\0'))).toMatch(/HEIC/);
  });

  it('refuses the shape of a panorama and a thumbnail, and takes what cameras take, upright too', () => {
    const shape = (width: number, height: number) => checkPhotoShape({ width, height }, 'a.jpg');
    for (const [width, height] of [
      [4000, 3000],
      [3000, 4000],
      [4608, 2160],
      [6000, 2000],
    ] as const) {
      shape(width, height);
    }
    for (const [width, height] of [
      [12000, 2400],
      [2400, 12000],
    ] as const)
      expect(() => shape(width, height)).toThrow(/longer than a camera takes at once.*panorama/);
    expect(() => shape(1, 1)).toThrow('only 1 x 1 pixels');
    expect(() => shape(4000, 60)).toThrow('only 4000 x 60 pixels');
  });

  it('meets any bytes with a sentence or a size', () => {
    fc.assert(
      fc.property(
        fc.constantFrom([], [0xff, 0xd8], [0x89, 0x50, 0x4e, 0x47], [0x52, 0x49, 0x46, 0x46]),
        fc.uint8Array({ maxLength: 80 }),
        (head, rest) => {
          message(Uint8Array.from([...head, ...rest]));
        },
      ),
      { numRuns: 500 },
    );
  });
});
