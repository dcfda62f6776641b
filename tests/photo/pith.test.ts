import { beforeAll, describe, expect, it } from 'vitest';
import type { Polygon } from '../../src/geometry';
import type { Cv } from '../../src/photo';
import { findPith } from '../../src/photo/pith';
import { turned } from '../../src/photo/turned';
import { rasterOf } from '../../src/raster';
import { seededRandom } from '../../src/search';
import { openCv } from './opencv';

/**
 * Faces sawn from a log of round rings whose widths and shades are random: a face at height z over the pith shows ring r at y where
 * r squared is y squared plus z squared, so its lines mirror about the pith's own line. mm.
 */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const [LENGTH, WIDTH] = [1200, 400];

/** @param pith where the pith runs across the slab at x, from the slab's middle */
function face(pith: (x: number) => number, z: number) {
  const random = seededRandom(5);
  const edges = [0];
  while ((edges.at(-1) as number) < 700) edges.push((edges.at(-1) as number) + 1.5 + 4 * random.next());
  const shades = edges.map(() => 40 * random.next());
  // Which ring each tenth of a millimetre belongs to.
  const ringAt = Uint16Array.from({ length: 7000 }, () => 0);
  for (let i = 0, k = 0; i < 7000; i++) {
    while ((edges[k + 1] as number) <= i / 10) k++;
    ringAt[i] = k;
  }
  const noise = seededRandom(6);
  const data = new Uint8ClampedArray(LENGTH * WIDTH);
  for (let i = 0; i < data.length; i++) {
    const [x, y] = [(i % LENGTH) + 0.5, Math.floor(i / LENGTH) + 0.5 - WIDTH / 2];
    const r = Math.hypot(y - pith(x), z);
    const k = ringAt[Math.floor(10 * r)] as number;
    const [from, to] = [edges[k] as number, edges[k + 1] as number];
    data[i] = 110 + ((shades[k] as number) * (r - from)) / (to - from) + 12 * (noise.next() - 0.5);
  }
  const outer: Polygon<'face'> = [
    [0, -WIDTH / 2],
    [LENGTH, -WIDTH / 2],
    [LENGTH, WIDTH / 2],
    [0, WIDTH / 2],
  ];
  const picture = { raster: rasterOf(LENGTH, WIDTH, 1, data), mmPerPx: 1, x0: 0, y0: -WIDTH / 2 };
  return findPith(turned(cv, picture, { outer, holes: [] }, new Uint8Array(data.length)));
}

describe('the line about which rings mirror', () => {
  it.each([
    { what: 'just over the pith', pith: () => 12, z: 25 },
    { what: 'far over a pith that wanders', pith: (x: number) => -30 + 14 * Math.sin(x / 300), z: 70 },
    { what: 'beneath a pith that runs at a slant', pith: (x: number) => 40 - x / 25, z: -40 },
  ])('is found $what', ({ pith, z }) => {
    const seen = face(pith, z);
    const off = (seen?.line ?? []).map(([x, y]) => Math.abs(y - pith(x))).sort((a, b) => a - b);
    expect(off.length).toBeGreaterThan(30);
    expect(off[Math.floor(0.9 * off.length)]).toBeLessThan(3);
    expect(seen?.confidence).toBeGreaterThan(0.45);
  });

  it('is not claimed where the pith lies outside the slab', () => {
    expect(face(() => 330, 30)).toBeNull();
  });
});
