import jsQR from 'jsqr';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { cuttingMap, toSvg } from '../../src/cutmap';
import { inventedRequest } from './invented';

describe('labels of blanks and offcuts', () => {
  it('say the piece in words and in a code that an independent reader reads, one each', async () => {
    const request = await inventedRequest(2, 'Letter', 'in');
    const sheet = cuttingMap(request).sheets.find(({ name }) => name.endsWith('labels'))!;
    const words = sheet.groups[0]!.elements.flatMap((element) => (element.is === 'text' ? [element.text] : []));
    const pieces = request.report.slabs.flatMap(({ name, blanks, offcuts }) => [
      ...blanks.map(({ strip }) => `Counter ${strip + 1}`),
      ...offcuts.map((_, i) => `${name} O${i + 1}`),
    ]);
    for (const piece of pieces) expect(words.filter((word) => word === piece)).toHaveLength(1);
    // As printed at some 300 dots an inch.
    const image = sharp(Buffer.from(toSvg(sheet, request.typeface)), { density: 150 }).flatten({ background: '#fff' });
    const { width } = await image.clone().metadata();
    const perMm = width! / sheet.width;
    const [x, y] = [12 + (sheet.width - 24) / 3 - 25, 12 + (sheet.height - 24 - 15) / 4 - 26.5];
    const part = {
      left: Math.round(x * perMm),
      top: Math.round(y * perMm),
      width: Math.round(24.5 * perMm),
      height: Math.round(25.5 * perMm),
    };
    const { data, info } = await image
      .png()
      .toBuffer()
      .then((png) => sharp(png).extract(part).ensureAlpha().raw().toBuffer({ resolveWithObject: true }));
    const read = jsQR(new Uint8ClampedArray(data), info.width, info.height);
    expect(read?.data.split('\n').slice(0, 3)).toEqual(['North wall counter', 'Counter 1', 'Slab 1, upper face']);
  });
});
