import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, measure } from '../../src/photo';
import { openCv } from './opencv';
import { card, type Eye, photograph, pixelOf, type Thing } from './scene';

/** What edges in a photo add: to clicks on rods, and to markers whose inner lines were printed a part of a pixel off. */

const EYE: Eye = {
  width: 2000,
  height: 1500,
  focal: 1560,
  k1: -0.05,
  at: [1000, 250],
  distance: 2000,
  pitch: 14,
  yaw: -7,
  roll: 2,
};
const ENDS = [
  [
    [100, 40],
    [1900, 460],
  ],
  [
    [700, 30],
    [720, 480],
  ],
  [
    [150, 420],
    [1800, 90],
  ],
] as const;

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

/** Root of the mean square of errors of lengths, as a share; and whether each is within 2.5 sigma. */
function misses(calibration: ReturnType<typeof calibrate>) {
  const view = measure(calibration);
  const list = ENDS.map(([a, b]) => {
    const length = Math.hypot(a[0] - b[0], a[1] - b[1]);
    const seen = view.distance(pixelOf(EYE, a), pixelOf(EYE, b));
    return { share: ((seen?.mm ?? 0) - length) / length, sigmas: ((seen?.mm ?? 0) - length) / (seen?.sigma ?? 0) };
  });
  return {
    rms: Math.sqrt(list.reduce((sum, { share }) => sum + share * share, 0) / list.length),
    sigmas: list.map(({ sigmas }) => Math.abs(sigmas)),
  };
}

describe('rods', () => {
  const rods = [
    { from: [250, 260], radians: 0.03, length: 1000 },
    { from: [1600, 20], radians: Math.PI / 2 - 0.04, length: 450 },
  ] as const;
  const WIDTH = 40;
  const place = ({ from, radians }: (typeof rods)[number], x: number, y: number): [number, number] => {
    const [c, s] = [Math.cos(radians), Math.sin(radians)];
    return [from[0] + c * x - s * y, from[1] + s * x + c * y];
  };
  const things = rods.map((rod): Thing => {
    const [c, s] = [Math.cos(rod.radians), Math.sin(rod.radians)];
    return {
      at: place(rod, rod.length / 2, 0),
      reach: rod.length / 2 + WIDTH,
      white: (x, y) => {
        const [dx, dy] = [x - rod.from[0], y - rod.from[1]];
        const [u, v] = [c * dx + s * dy, -s * dx + c * dy];
        return u >= 0 && u <= rod.length && Math.abs(v) <= WIDTH / 2 ? 0.7 : null;
      },
    };
  });
  /** Clicks a good half pixel off, another way each (Park and Miller 1988). */
  const scaleOf = (seed: number) => {
    let state = seed;
    const off = () => {
      state = (state * 48271) % 2147483647;
      return (state / 2147483647 - 0.5) * 2;
    };
    const click = (rod: (typeof rods)[number], x: number, y: number): [number, number] => {
      const [u, v] = pixelOf(EYE, place(rod, x, y));
      return [u + off(), v + off()];
    };
    return {
      kind: 'rods' as const,
      rods: rods.map((rod) => ({
        px: [click(rod, 0, 0), click(rod, rod.length, 0)] as [[number, number], [number, number]],
        length: rod.length,
        width: WIDTH,
        marks: [0.25, 0.5, 0.75].map((share) => ({ px: click(rod, share * rod.length, 0), at: share * rod.length })),
        corners: [
          click(rod, 0, -WIDTH / 2),
          click(rod, rod.length, -WIDTH / 2),
          click(rod, rod.length, WIDTH / 2),
          click(rod, 0, WIDTH / 2),
        ] as [[number, number], [number, number], [number, number], [number, number]],
      })),
    };
  };

  test('with their edges found in the photo measure nearer to the truth than by clicks alone', () => {
    const photo = photograph(EYE, things);
    const bare = photograph(EYE, []);
    const [byEdges, byClicks] = [photo, bare].map((picture) =>
      [11, 222, 3333, 44444].map((seed) => misses(calibrate(cv, picture, scaleOf(seed), { exifFocal35: 28 }))),
    ) as [ReturnType<typeof misses>[], ReturnType<typeof misses>[]];
    const rms = (list: typeof byEdges) => Math.sqrt(list.reduce((sum, one) => sum + one.rms ** 2, 0) / list.length);
    expect(rms(byEdges)).toBeLessThan(0.7 * rms(byClicks));
    for (const sigma of byEdges.flatMap(({ sigmas }) => sigmas)) expect(sigma).toBeLessThan(2.5);
  });
});

describe('markers', () => {
  /** As a program makes them that draws six cells over 100 pixels: lines between cells at the next whole pixel. */
  const rounded = (id: number, at: readonly [number, number]): Thing => {
    const exact = card(cv, id, 100, at, 0);
    const PIXELS = 100;
    const line = (t: number) => {
      for (let k = 1; k <= 6; k++) if (t < Math.ceil((k * PIXELS) / 6) / PIXELS) return (k - 0.5) / 6;
      return t;
    };
    return {
      ...exact,
      white: (x, y) => {
        const [u, v] = [(x - at[0]) / 100 + 0.5, (y - at[1]) / 100 + 0.5];
        const inside = u > 0 && u < 1 && v > 0 && v < 1;
        return inside ? exact.white(at[0] + 100 * (line(u) - 0.5), at[1] + 100 * (line(v) - 0.5)) : exact.white(x, y);
      },
    };
  };

  test('whose inner lines were rounded to whole pixels of a coarse print measure as those drawn exactly, to 0.05 %', () => {
    const spots = { 3: [180, 90], 7: [1800, 60], 11: [1850, 450], 20: [120, 430] } as const;
    const [coarse, exact] = [rounded, (id: number, at: readonly [number, number]) => card(cv, id, 100, at, 0)].map(
      (make) => {
        const photo = photograph(
          EYE,
          Object.entries(spots).map(([id, at]) => make(Number(id), at)),
        );
        return calibrate(cv, photo, { kind: 'markers', dictionary: '4x4_50', side: 100 }, { exifFocal35: 28 });
      },
    ) as [ReturnType<typeof calibrate>, ReturnType<typeof calibrate>];
    expect(coarse.outliers).toEqual([]);
    for (const [a, b] of ENDS) {
      const [one, other] = [coarse, exact].map((calibration) =>
        measure(calibration).distance(pixelOf(EYE, a), pixelOf(EYE, b)),
      );
      expect(Math.abs((one?.mm as number) / (other?.mm as number) - 1)).toBeLessThan(0.0005);
    }
    for (const sigma of misses(coarse).sigmas) expect(sigma).toBeLessThan(2);
  });
});
