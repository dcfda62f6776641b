import { describe, expect, it } from 'vitest';
import { commands } from 'vitest/browser';
import { InputProblem } from '../../src/units';
import { decodePhoto, photoSize } from '../../workers/decode';
import { HEIGHT, WIDTH, worstOf } from '../photo/blocks';

/** The same photos of every kind as the command line is tried with (tests/cli/photo-file.test.ts), opened by a browser. */

const { readable, refused } = await commands.photoKinds();
const blobOf = (bytes: string) => new Blob([Uint8Array.from(atob(bytes), (c) => c.charCodeAt(0))]);

describe('photos of every kind, in a browser', () => {
  it.each(readable)('reads $name', async ({ bytes, within, grey }) => {
    const file = blobOf(bytes);
    const { raster, full } = await decodePhoto(file, 'a');
    expect(worstOf(raster, grey)).toBeLessThanOrEqual(within);
    expect(full).toEqual({ width: WIDTH, height: HEIGHT });
    expect(await photoSize(file, 'a')).toEqual(full);
  });

  it.each(refused)('refuses $name', async ({ bytes, said }) => {
    const problem = await decodePhoto(blobOf(bytes), 'a.jpg').catch((error: unknown) => error);
    expect(problem).toBeInstanceOf(InputProblem);
    expect(problem).toMatchObject({ where: 'a.jpg', message: expect.stringMatching(said) });
    expect((problem as InputProblem).mend).toMatch(/\.$/);
  });

  it('lays transparency on white', async () => {
    const canvas = new OffscreenCanvas(120, 120);
    canvas.getContext('2d');
    const { raster } = await decodePhoto(await canvas.convertToBlob({ type: 'image/png' }), 'a');
    expect(new Set(raster.data)).toEqual(new Set([255]));
  });

  it('reads a large photo from a smaller copy of the same shape, upright', async () => {
    const canvas = new OffscreenCanvas(5000, 4000);
    const ink = canvas.getContext('2d');
    ink?.fillRect(0, 0, 2500, 4000);
    const { raster, full } = await decodePhoto(await canvas.convertToBlob({ type: 'image/jpeg' }), 'a');
    expect(full).toEqual({ width: 5000, height: 4000 });
    expect(raster.width * raster.height).toBeLessThan(12.7e6);
    expect(raster.width / raster.height).toBe(5000 / 4000);
  });
});
