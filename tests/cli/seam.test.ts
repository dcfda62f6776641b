import { describe, expect, it } from 'vitest';
import { toPng } from '../../src/cli/photo-file';
import { leafPictures } from '../leaves/rendered-leaves';
import { Bench, errorOf, faultsAgainst } from './call';

/** Two slabs of one invented log as files, and a top that takes most of both. */
async function pair(bench: Bench) {
  const slabs = [];
  for (const { id, picture, outline } of leafPictures(2, { length: 600, width: 230, drift: [0, 20] })) {
    await bench.put(`${id}.png`, await toPng(picture.raster));
    slabs.push({ id, image: `${id}.png`, mmPerPx: 1, outline });
  }
  const top = { length: 450, depth: [280, 360], front: 'straight' };
  return { slabs, top, kerf: 3, leastStrip: 90, slide: 60, angle: 1, ends: 'same' };
}

describe('seam', () => {
  it('gives joint lines of the asked length, strips and angle, best first, in the shape that its schema promises', async () => {
    await using bench = await Bench.make();
    await bench.put('pair.json', await pair(bench));
    const { status, out } = await bench.call(['seam', 'pair.json']);
    expect(status).toBe(0);
    const found = JSON.parse(out);
    expect(faultsAgainst(JSON.parse((await bench.call(['schema', 'seam'])).out), found)).toEqual([]);
    expect(found.seams.length).toBeGreaterThan(0);
    const costs = found.seams.map(({ cost }: { cost: number }) => cost);
    expect(costs).toEqual([...costs].sort((a, b) => a - b));
    for (const { joints, slide } of found.seams) {
      expect(joints.map(({ slab }: { slab: string }) => slab)).toEqual(['leaf-1', 'leaf-2']);
      expect(Math.abs(slide)).toBeLessThanOrEqual(60);
      for (const { line } of joints) {
        const [[x0, y0], [x1, y1]] = line;
        expect(Math.hypot(x1 - x0, y1 - y0)).toBeCloseTo(450, 1);
        const degrees = Math.abs((Math.atan((y1 - y0) / (x1 - x0)) * 180) / Math.PI);
        expect(degrees).toBeLessThanOrEqual(1.001);
      }
    }
  });

  it('gives the same bytes for the same work, and less work evaluates less', async () => {
    await using bench = await Bench.make();
    await bench.put('pair.json', await pair(bench));
    const [once, twice] = [
      await bench.call(['seam', 'pair.json', '--work', '50']),
      await bench.call(['seam', 'pair.json', '--work', '50']),
    ];
    expect(once.status).toBe(0);
    expect(twice.out).toBe(once.out);
    const all = JSON.parse((await bench.call(['seam', 'pair.json'])).out);
    expect(JSON.parse(once.out).evaluated).toBeLessThan(all.evaluated);
  });

  it('takes a slide beyond all that two slabs have, and keeps to their wood', async () => {
    await using bench = await Bench.make();
    const slabs = [];
    for (const { id, picture, outline } of leafPictures(2, { length: 300, width: 160, drift: [0, 9] })) {
      await bench.put(`${id}.png`, await toPng(picture.raster));
      slabs.push({ id, image: `${id}.png`, mmPerPx: 1, outline });
    }
    const top = { length: 200, depth: [200, 240], front: 'straight' };
    const wish = { slabs, top, kerf: 3, leastStrip: 60, slide: 1e9, angle: 0, ends: 'same' };
    await bench.put('pair.json', wish);
    const { status, out } = await bench.call(['seam', 'pair.json']);
    expect(status).toBe(0);
    const { seams } = JSON.parse(out);
    expect(seams.length).toBeGreaterThan(0);
    for (const { joints } of seams)
      for (const [x, y] of joints.flatMap(({ line }: { line: [number, number][] }) => line)) {
        expect(Math.min(x, y, 300 - x, 160 - y)).toBeGreaterThanOrEqual(0);
      }
  });

  it('names what is at fault', async () => {
    await using bench = await Bench.make();
    const good = await pair(bench);
    for (const [spoilt, where] of [
      [{ ...good, slabs: good.slabs.slice(0, 1) }, '/slabs/1'],
      [{ ...good, slabs: good.slabs.map((slab) => ({ ...slab, image: 'gone.png' })) }, '/slabs/0/image'],
      // A scale in another unit, and an outline from elsewhere: both show what is no slab.
      [{ ...good, slabs: good.slabs.map((slab) => ({ ...slab, mmPerPx: 100 })) }, '/slabs/0/mmPerPx'],
      [{ ...good, slabs: good.slabs.map((slab) => ({ ...slab, mmPerPx: 0.04 })) }, '/slabs/0/mmPerPx'],
      [{ ...good, top: { ...good.top, depth: [360, 280] } }, '/top/depth'],
      [{ ...good, top: { ...good.top, depth: [280, 320, 360] } }, '/top/depth/2'],
      [{ ...good, angle: -1 }, '/angle'],
      [{ ...good, ends: 'any' }, '/ends'],
    ] as const) {
      await bench.put('pair.json', spoilt);
      const called = await bench.call(['seam', 'pair.json', '--out', 'out.json']);
      expect([called.status, errorOf(called).where]).toEqual([2, where]);
      expect(errorOf(called).message).not.toMatch(/never|undefined|NaN/);
      expect(await bench.files()).not.toContain('out.json');
    }
  });
});
