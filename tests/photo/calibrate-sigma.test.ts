import { beforeAll, describe, expect, test } from 'vitest';
import type { Scale } from '../../src/job';
import type { Cv } from '../../src/photo';
import { calibrate, measure } from '../../src/photo';
import { openCv } from './opencv';
import { type Eye, pixelOf } from './scene';

/**
 * Is the ± honest? Cameras, lenses, clicks, measured places and the wood's warp are drawn at random as the room believes them to be (the
 * figures are repeated here on purpose), and the truth is counted inside two sigma: 95.4 % for a normal error.
 */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

/** A small generator of its own (Park and Miller 1988), so that runs repeat. */
function chance(seed: number) {
  let state = seed;
  const uniform = () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
  return { uniform, normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()) };
}

type Chance = ReturnType<typeof chance>;
type P = readonly [number, number];

const MIDDLE: P = [1200, 275];

function someEye({ uniform, normal }: Chance): Eye {
  return {
    width: 4000,
    height: 3000,
    focal: 4000 * 0.78 * (1 + 0.025 * normal()),
    k1: 0.1 * normal() * 0.8,
    k2: 0.02 * normal(),
    centre: [1999.5 + 30 * normal(), 1499.5 + 30 * normal()],
    at: MIDDLE,
    distance: 2300 + 300 * uniform(),
    pitch: 40 * (uniform() - 0.5),
    yaw: 30 * (uniform() - 0.5),
    roll: 20 * (uniform() - 0.5),
  };
}

/** Bow, cup, twist and bumps of about 150 mm reach, as relief.ts believes of a slab that has no readings. */
function someWarp({ uniform, normal }: Chance): (p: P) => number {
  const [bow, cup, twist] = [2e-6 * normal(), 30e-6 * normal(), 8e-6 * normal()];
  const bumps = Array.from({ length: 40 }, () => ({
    kx: normal() / 150,
    ky: normal() / 150,
    phase: 2 * Math.PI * uniform(),
    size: 1.2 * Math.sqrt(2 / 40),
  }));
  const [uu, vv] = [1300 ** 2 / 3, 290 ** 2 / 3];
  return ([x, y]) => {
    const [u, v] = [x - MIDDLE[0], y - MIDDLE[1]];
    const rest = bumps.reduce((sum, { kx, ky, phase, size }) => sum + size * Math.cos(kx * u + ky * v + phase), 0);
    return bow * (u * u - uu) + cup * (v * v - vv) + twist * u * v + rest;
  };
}

const ENDS: readonly (readonly [P, P])[] = [
  [
    [100, 50],
    [2300, 500],
  ],
  [
    [600, 100],
    [900, 450],
  ],
  [
    [300, 480],
    [1500, 80],
  ],
  [
    [1900, 60],
    [1920, 520],
  ],
];

/** How many sigma each length misses by, over many photos. */
function misses(scaleOf: (eye: Eye, warp: (p: P) => number, c: Chance) => Scale, runs: number): number[] {
  const c = chance(20_261_125);
  const out: number[] = [];
  for (let run = 0; run < runs; run++) {
    const eye = someEye(c);
    const warp = someWarp(c);
    const see = (p: P) => pixelOf(eye, p, warp(p));
    const blank = { width: eye.width, height: eye.height, channels: 1 as const, data: new Uint8Array(0) };
    const view = measure(calibrate(cv, blank, scaleOf(eye, warp, c), { exifFocal35: 0.78 * 35.3 }));
    for (const [a, b] of ENDS) {
      const seen = view.distance(see(a), see(b));
      if (!seen) throw new Error('not seen');
      out.push((seen.mm - Math.hypot(a[0] - b[0], a[1] - b[1])) / seen.sigma);
    }
  }
  return out;
}

const inside = (list: readonly number[]) => list.filter((z) => Math.abs(z) <= 2).length / list.length;
const click = (p: P, { normal }: Chance): P => [p[0] + 0.7 * normal(), p[1] + 0.7 * normal()];

describe('the truth lies within two sigma about 19 times in 20', () => {
  test('by points known to half a millimetre and clicked to 0.7 px', () => {
    const places: P[] = [
      [150, 50],
      [1200, 20],
      [2250, 60],
      [150, 500],
      [1250, 540],
      [2260, 490],
    ];
    const list = misses(
      (eye, warp, c) => ({
        kind: 'points',
        points: places.map((p) => ({
          px: click(pixelOf(eye, p, warp(p)), c),
          mm: [p[0] + 0.5 * c.normal(), p[1] + 0.5 * c.normal()],
        })),
      }),
      60,
    );
    expect(inside(list)).toBeGreaterThan(0.9);
    // And it is no idle ±: some miss by more than half of it.
    expect(inside(list.map((z) => z * 4))).toBeLessThan(0.9);
  });

  test('by two rods with marks and corners', () => {
    const rods = [
      { a: [300, 260], b: [1298, 300], length: 1000, at: [50, 350, 650, 950] },
      { a: [1990, 40], b: [2010, 539], length: 500, at: [50, 250, 450] },
    ] as const;
    const list = misses(
      (eye, warp, c) => ({
        kind: 'rods',
        rods: rods.map(({ a, b, length, at }) => {
          const far = Math.hypot(b[0] - a[0], b[1] - a[1]);
          const [ux, uy] = [(b[0] - a[0]) / far, (b[1] - a[1]) / far];
          const middle: P = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
          const out = warp(middle) + 6 + 0.7 * c.normal();
          const spot = (s: number, t: number) =>
            click(pixelOf(eye, [a[0] + ux * s - uy * t, a[1] + uy * s + ux * t], out), c);
          return {
            px: [spot(0, 0), spot(length, 0)] as [P, P],
            length,
            above: 6,
            width: 32,
            marks: at.map((s) => ({ px: spot(s, 0), at: s })),
            corners: [spot(0, -16), spot(length, -16), spot(length, 16), spot(0, 16)] as [P, P, P, P],
          };
        }),
      }),
      60,
    );
    expect(inside(list)).toBeGreaterThan(0.9);
    expect(inside(list.map((z) => z * 4))).toBeLessThan(0.9);
  });
});

test('what two ends share is not counted twice: a short length is surer than either end', () => {
  const eye = { ...someEye(chance(7)), k1: -0.05, k2: 0 };
  const places: P[] = [
    [150, 50],
    [2250, 60],
    [150, 500],
    [2260, 490],
  ];
  const blank = { width: 4000, height: 3000, channels: 1 as const, data: new Uint8Array(0) };
  const view = measure(
    calibrate(cv, blank, { kind: 'points', points: places.map((p) => ({ px: pixelOf(eye, p), mm: p })) }),
  );
  const [a, b] = [pixelOf(eye, [60, 30]), pixelOf(eye, [100, 35])];
  const [sigmaA, sigmaB] = [view.toFace(a)?.sigma ?? 0, view.toFace(b)?.sigma ?? 0];
  expect(view.distance(a, b)?.sigma).toBeLessThan(0.5 * Math.hypot(sigmaA, sigmaB));
});

test('the ± grows away from the reference', () => {
  const eye = { ...someEye(chance(7)), k1: -0.05, k2: 0 };
  const blank = { width: 4000, height: 3000, channels: 1 as const, data: new Uint8Array(0) };
  const places: P[] = [
    [1100, 200],
    [1300, 200],
    [1300, 340],
    [1100, 340],
  ];
  const view = measure(
    calibrate(cv, blank, { kind: 'points', points: places.map((p) => ({ px: pixelOf(eye, p), mm: p })) }),
  );
  const sigmas = [1200, 1500, 1800, 2100].map((x) => view.sigma([x, 270]));
  for (const [i, sigma] of sigmas.slice(1).entries()) expect(sigma).toBeGreaterThan(sigmas[i] as number);
});
