import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readPhoto } from '../../src/cli/photo-file';
import { bounds, contains, type Point, ringArea } from '../../src/geometry';
import { Bench, type Called, faultOf, faultsAgainst } from './call';

const PHOTO = resolve('demo-images/slab-2.jpg');
const json = async (path: string) => JSON.parse(await readFile(path, 'utf8'));

let bench: Bench;
let called: Called;
let found: {
  outline: Point<'face'>[];
  distances: { mm: number; sigma: number }[];
  rectified: { mmPerPx: number; x0: number; y0: number };
  grain: { columns: number; angles: unknown[] };
};
let truth: {
  check_distances: { a_px: number[]; b_px: number[]; plan_mm: number }[];
  wood_without_bark: { area_mm2: number }[];
};
const ARGS = ['trace', PHOTO, '--scale', 'scale.json', '--points', 'points.json'];

beforeAll(async () => {
  bench = await Bench.make();
  truth = await json('tests/fixtures/truth/slab-2.json');
  const job = await json('demo-images/job.json');
  await bench.put('scale.json', job.flitches['log-7'].slabs['slab-2'].faces.top.photos.p1.scale);
  const px = truth.check_distances.flatMap(({ a_px, b_px }) => [a_px, b_px]);
  await bench.put('points.json', { px, distances: truth.check_distances.map((_, i) => [2 * i, 2 * i + 1]) });
  called = await bench.call([...ARGS, '--rectified', 'face.png', '--resolution', '1', '--out', 'face.json']);
  found = await json(join(bench.folder, 'face.json'));
}, 120_000);
afterAll(() => bench[Symbol.asyncDispose]());

describe('trace', () => {
  it('gives what its schema promises, and tells how far it is', async () => {
    expect([called.status, called.out]).toEqual([0, '']);
    expect(called.told.at(-1)).toBe('100 %');
    const schema = JSON.parse((await bench.call(['schema', 'trace'])).out);
    expect(faultsAgainst(schema, found)).toEqual([]);
    const scale = await json(join(bench.folder, 'scale.json'));
    expect(faultsAgainst(schema.$defs.scale, scale)).toEqual([]);
    expect(faultsAgainst(schema.$defs.points, await json(join(bench.folder, 'points.json')))).toEqual([]);
  });

  it('measures distances on the slab within three sigma', () => {
    truth.check_distances.forEach(({ plan_mm }, i) => {
      const { mm, sigma } = found.distances[i] as { mm: number; sigma: number };
      expect(Math.abs(mm - plan_mm), `distance ${i}: ${mm} against ${plan_mm}`).toBeLessThan(3 * sigma);
    });
  });

  it('finds the area of the wood within 2 %', () => {
    const [{ area_mm2 }] = truth.wood_without_bark as [{ area_mm2: number }];
    expect(Math.abs(ringArea(found.outline) / area_mm2 - 1)).toBeLessThan(0.02);
  });

  it('writes the rectified face where it says that it lies: wood inside the outline, none far outside', async () => {
    const { raster } = await readPhoto(join(bench.folder, 'face.png'), 'face.png');
    const { mmPerPx, x0, y0 } = found.rectified;
    expect(mmPerPx).toBe(1);
    const { minX, maxX, minY, maxY } = bounds(found.outline);
    expect(x0).toBeLessThan(minX);
    expect(y0).toBeLessThan(minY);
    expect(x0 + raster.width * mmPerPx).toBeGreaterThan(maxX);
    expect(y0 + raster.height * mmPerPx).toBeGreaterThan(maxY);
    // Walnut is darker than the floor under it, and redder than it is blue.
    let [wood, red] = [0, 0];
    for (let r = 10; r < raster.height; r += 23) {
      for (let c = 10; c < raster.width; c += 23) {
        if (!contains(found.outline, [x0 + (c + 0.5) * mmPerPx, y0 + (r + 0.5) * mmPerPx])) continue;
        const at = (r * raster.width + c) * 3;
        wood += 1;
        if ((raster.data[at] as number) > (raster.data[at + 2] as number) + 10) red += 1;
      }
    }
    expect(red / wood).toBeGreaterThan(0.9);
  });

  it('gives the grain row by row', () => {
    const { columns, angles } = found.grain;
    expect(angles.length % columns).toBe(0);
    expect(angles.length).toBeGreaterThan(columns);
  });

  it('gives the same bytes again, whatever was traced before', async () => {
    const written = await readFile(join(bench.folder, 'face.json'), 'utf8');
    const again = await bench.call([...ARGS, '--rectified', 'again.png', '--resolution', '1']);
    expect(again.out === written).toBe(true);
    const [one, two] = await Promise.all(['face.png', 'again.png'].map((name) => readFile(join(bench.folder, name))));
    expect(one?.equals(two as Buffer)).toBe(true);
  });

  it.runIf(process.env.SLOW)('measures the same without a picture, and then names none', async () => {
    const { grain: _, rectified, ...rest } = JSON.parse((await bench.call(ARGS)).out);
    const { grain: __, rectified: ___, ...before } = found as Record<string, unknown>;
    expect(rectified).toBeNull();
    expect(JSON.stringify(rest) === JSON.stringify(before)).toBe(true);
  });
});

describe('trace, where the input is at fault', () => {
  it('names the file, the option or the path, and writes nothing', async () => {
    await bench.put('small.json', { kind: 'markers', dictionary: '4x4_50', side: -80 });
    await bench.put('kind.json', { kind: 'ruler' });
    await bench.put('more.json', { kind: 'markers', dictionary: '4x4_50', side: 80, colour: 'red' });
    await bench.put('three.json', { kind: 'points', points: [1, 2, 3].map((i) => ({ px: [i, i], mm: [i, i] })) });
    await bench.put('pair.json', { px: [[1, 2]], distances: [[0, 1]] });
    await bench.put('text.jpg', 'no photo');
    const blank = sharp({ create: { width: 800, height: 600, channels: 3, background: '#c9b9a0' } });
    await bench.put('blank.jpg', await blank.jpeg().toBuffer());
    for (const [line, where] of [
      ['trace blank.jpg', '--scale'],
      ['trace gone.jpg --scale scale.json', 'gone.jpg'],
      ['trace text.jpg --scale scale.json', 'text.jpg'],
      ['trace blank.jpg --scale gone.json', 'gone.json'],
      ['trace blank.jpg --scale small.json', '/side'],
      ['trace blank.jpg --scale kind.json', '/kind'],
      ['trace blank.jpg --scale more.json', '/colour'],
      ['trace blank.jpg --scale three.json', '/points'],
      ['trace blank.jpg --scale scale.json --points pair.json', '/distances/0/1'],
      ['trace blank.jpg --scale scale.json --rectified a.png', '--rectified'],
      ['trace blank.jpg --scale scale.json --resolution 1', '--resolution'],
      ['trace blank.jpg --scale scale.json --rectified a.png --resolution 0', '--resolution'],
      ['trace blank.jpg --scale scale.json --rectified a.png --resolution 1 --out a.png', '--out'],
      ['trace blank.jpg --scale scale.json --rectified no/a.png --resolution 1', 'no/a.png'],
    ] as const)
      expect((await faultOf(bench, line.split(' '))).where, line).toBe(where);
  });

  it('says what is wrong with a panorama and with a thumbnail', async () => {
    for (const [width, height, said] of [
      [4000, 700, /panorama/],
      [1, 1, /only 1 x 1 pixels/],
    ] as const) {
      const plain = sharp({ create: { width, height, channels: 3, background: '#776655' } });
      await bench.put('odd.png', await plain.png().toBuffer());
      const { message, where } = await faultOf(bench, ['trace', 'odd.png', '--scale', 'scale.json']);
      expect(message).toMatch(said);
      expect(where).toBe('odd.png');
    }
  });

  it('says that a photo shows no markers, and how to go on', async () => {
    const { message, mend } = await faultOf(bench, [
      'trace',
      'blank.jpg',
      '--scale',
      'scale.json',
      '--out',
      'none.json',
    ]);
    expect(message).toMatch(/marker/i);
    expect(mend).toMatch(/point/i);
  });
});
