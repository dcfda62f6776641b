import { describe, expect, it } from 'vitest';
import { type Point, rectangle } from '../../src/geometry';
import { seededRandom } from '../../src/search';
import { type Reading, smoothFaces, warpFaces } from '../../src/surface';

type At = Point<'face'>;

/** A slab 2,600 x 560 x 54 with bow, cup and twist of its own and some waves, and readings of it as the trade takes them. */
function slab(seed: number) {
  const random = seededRandom(seed);
  const spread = (mm: number): number => (2 * random.next() - 1) * mm;
  const warp = { length: 2600, width: 560, thickness: 54, bow: spread(9), cup: spread(5), twist: spread(8) };
  const plain = warpFaces(warp);
  const waves = Array.from({ length: 4 }, () => ({
    mm: spread(0.7),
    x: 0.004 + 0.004 * random.next(),
    y: 0.006 + 0.006 * random.next(),
    from: 6 * random.next(),
  }));
  const wave = ([x, y]: At): number => waves.reduce((sum, w) => sum + w.mm * Math.cos(w.x * x + w.y * y + w.from), 0);
  const top = (p: At): number => plain.top.height(p) + wave(p);
  const bottom = (p: At): number => plain.bottom.height(p) + wave(p) + 0.0002 * p[0];
  const read = (height: (p: At) => number): Reading[] =>
    [-1150, -690, -230, 230, 690, 1150].flatMap((x) =>
      [-230, 0, 230].map((y): Reading => {
        const z = Math.round(2 * (height([x, y]) + 0.15 * random.normal())) / 2;
        return { at: [x, y], z, sigma: 0.2 };
      }),
    );
  return { top, bottom, faces: smoothFaces(read(top), read(bottom)) };
}

const places = [-1250, -1000, -500, 0, 300, 900, 1250].flatMap((x) => [-270, -100, 120, 270].map((y): At => [x, y]));

describe('a smooth surface with a model of warp', () => {
  it('is as far from the truth as it says: nine in ten within two sigma, over ten slabs with waves', () => {
    let within = 0;
    let square = 0;
    let all = 0;
    for (let seed = 1; seed <= 10; seed++) {
      const { top, bottom, faces } = slab(seed);
      for (const p of places) {
        for (const [surface, truth] of [
          [faces.top, top],
          [faces.bottom, bottom],
        ] as const) {
          const off = (surface.height(p) - truth(p)) / surface.sigma(p);
          if (Math.abs(off) <= 2) within += 1;
          square += off * off;
          all += 1;
        }
      }
    }
    expect(within / all).toBeGreaterThan(0.9);
    // Nor is it so wide that it says nothing: errors reach a good part of one sigma.
    expect(Math.sqrt(square / all)).toBeGreaterThan(0.4);
  });

  it('follows a pure warp between and beyond its readings within half a millimetre', () => {
    const truth = warpFaces({ length: 2600, width: 560, thickness: 54, bow: 9, cup: 4, twist: 3 });
    const at = [-1100, -550, 0, 550, 1100].flatMap((x) => [-220, 0, 220].map((y): At => [x, y]));
    const read = (height: (p: At) => number): Reading[] => at.map((p) => ({ at: p, z: height(p), sigma: 0.1 }));
    const faces = smoothFaces(read(truth.top.height), read(truth.bottom.height));
    for (const p of places) expect(Math.abs(faces.top.height(p) - truth.top.height(p))).toBeLessThan(0.5);
  });

  it('grows less sure away from the readings', () => {
    const { top } = slab(3).faces;
    const [at, between, beyond, far] = (
      [
        [230, 0],
        [460, 120],
        [1400, 0],
        [1900, 0],
      ] as At[]
    ).map((p) => top.sigma(p)) as [number, number, number, number];
    expect(between).toBeGreaterThan(at);
    expect(beyond).toBeGreaterThan(between);
    expect(far).toBeGreaterThan(beyond);
  });

  it('draws ways that the faces may lie with the mean and the spread that it says', () => {
    const { faces } = slab(5);
    const region = { outer: rectangle<'face'>(-600, -200, 1300, 270), holes: [] };
    const draws = faces.draws(region, 400, seededRandom(9).normal);
    const spot = 7;
    const [x, y] = (draws[0] as (typeof draws)[0]).top[spot] as readonly [number, number, number];
    const heights = draws.map(({ top }) => top[spot]?.[2] as number);
    const mean = heights.reduce((a, b) => a + b) / heights.length;
    const sigma = Math.sqrt(heights.reduce((sum, z) => sum + (z - mean) ** 2, 0) / heights.length);
    const said = faces.top.sigma([x, y]);
    // Four standard errors of a mean and of a standard deviation of 400.
    expect(Math.abs(mean - faces.top.height([x, y]))).toBeLessThan(0.2 * said);
    expect(Math.abs(sigma / said - 1)).toBeLessThan(0.15);
  });

  it('ends over a live edge of thousands of corners', () => {
    const { faces } = slab(2);
    const edge = Array.from({ length: 3000 }, (_, i): At => {
      const t = (2 * Math.PI * i) / 3000;
      return [(1200 + (i % 7)) * Math.cos(t), (240 + (i % 5)) * Math.sin(t)];
    });
    const [draw] = faces.draws({ outer: edge, holes: [] }, 1, seededRandom(1).normal);
    expect(draw?.top.length).toBeGreaterThan(20);
    expect(draw?.top.length).toBeLessThanOrEqual(150);
  });
});
