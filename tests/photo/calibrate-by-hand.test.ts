import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, measure } from '../../src/photo';
import { problemOf } from '../support/problem-of';
import { openCv } from './opencv';
import { type Eye, pixelOf } from './scene';

/** References that a hand clicks: known points and rods. */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

type P = readonly [number, number];

const EYE: Eye = {
  width: 4000,
  height: 3000,
  focal: 3100,
  k1: -0.05,
  at: [1200, 300],
  distance: 2300,
  pitch: 12,
  yaw: 7,
  roll: -4,
};
const BLANK = { width: 4000, height: 3000, channels: 1 as const, data: new Uint8Array(0) };
const PLACES: readonly P[] = [
  [100, 50],
  [1250, 20],
  [2300, 60],
  [120, 540],
  [1150, 560],
  [2280, 530],
];
const known = PLACES.map((mm) => ({ px: pixelOf(EYE, mm), mm }));
const lengthOf = (calibration: ReturnType<typeof calibrate>, a: P, b: P) =>
  measure(calibration).distance(pixelOf(EYE, a), pixelOf(EYE, b));

describe('known points', () => {
  test('four are enough where the lens is known; where it is not, the ± holds what it bends', () => {
    const four = [known[0], known[2], known[3], known[5]].filter((point) => point !== undefined);
    const offOf = (lens?: { focal: number; k1: number }) => {
      const calibration = calibrate(cv, BLANK, { kind: 'points', points: four, ...(lens ? { lens } : {}) });
      const seen = lengthOf(calibration, [300, 100], [2100, 480]);
      return { off: Math.abs((seen?.mm ?? 0) - Math.hypot(1800, 380)), sigma: seen?.sigma ?? 0 };
    };
    expect(offOf({ focal: EYE.focal / EYE.width, k1: EYE.k1 }).off).toBeLessThan(1);
    const { off, sigma } = offOf();
    expect(off).toBeLessThan(2 * sigma);
  });

  test('one clicked in the wrong place is left out by its number', () => {
    const points = known.map((point, i) =>
      i === 4 ? { ...point, px: [point.px[0] + 60, point.px[1] - 40] as P } : point,
    );
    const calibration = calibrate(cv, BLANK, { kind: 'points', points });
    expect(calibration.outliers).toEqual(['point 5']);
    const seen = lengthOf(calibration, [300, 100], [2100, 480]);
    expect(Math.abs((seen?.mm ?? 0) - Math.hypot(1800, 380))).toBeLessThan(2);
  });

  test('on one line, or mirrored, are refused with a way on', () => {
    const line = [0, 600, 1200, 1800].map((x): { px: P; mm: P } => ({ px: pixelOf(EYE, [x, 300]), mm: [x, 300] }));
    expect(problemOf(() => calibrate(cv, BLANK, { kind: 'points', points: line })).message).toContain('one line');
    const mirrored = known.map(({ px, mm }) => ({ px, mm: [mm[0], -mm[1]] as P }));
    expect(problemOf(() => calibrate(cv, BLANK, { kind: 'points', points: mirrored })).message).toContain('mirror');
  });
});

describe('rods', () => {
  const ABOVE = 20;
  const rod = (a: P, b: P) => {
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    const spot = (s: number, t: number) => pixelOf(EYE, [a[0] + ux * s - uy * t, a[1] + uy * s + ux * t], ABOVE);
    return {
      px: [spot(0, 0), spot(length, 0)] as [P, P],
      length,
      above: ABOVE,
      width: 30,
      marks: [0.25, 0.5, 0.75].map((share) => ({ px: spot(share * length, 0), at: share * length })),
      // Clicked in no order.
      corners: [spot(length, 15), spot(0, -15), spot(0, 15), spot(length, -15)] as [P, P, P, P],
    };
  };
  const along = rod([250, 300], [1450, 330]);
  const across = rod([1900, 80], [1880, 560]);

  test('along and across measure the wood below them, their own height taken off', () => {
    const seen = lengthOf(calibrate(cv, BLANK, { kind: 'rods', rods: [along, across] }), [150, 100], [2150, 500]);
    expect(Math.abs((seen?.mm ?? 0) / Math.hypot(2000, 400) - 1)).toBeLessThan(0.002);
    const flat = { ...along, above: 0 };
    const wrong = lengthOf(
      calibrate(cv, BLANK, { kind: 'rods', rods: [flat, { ...across, above: 0 }] }),
      [150, 100],
      [2150, 500],
    );
    // A rod 20 mm nearer to a camera at 2.3 m looks 0.9 % longer.
    expect((wrong?.mm ?? 0) / (seen?.mm ?? 1)).toBeCloseTo(1 - ABOVE / EYE.distance, 2);
  });

  test('one of a wrong length among four is left out by its number', () => {
    const rods = [along, across, rod([300, 520], [1300, 500]), { ...rod([500, 80], [1500, 60]), length: 1120 }];
    const wrong = { ...rods[3], marks: [] } as (typeof rods)[number];
    const calibration = calibrate(cv, BLANK, { kind: 'rods', rods: [...rods.slice(0, 3), wrong] }, { exifFocal35: 28 });
    expect(calibration.outliers).toEqual(['rod 4']);
  });

  test('corners without a width, or all at one end, are refused where they stand', () => {
    const { width: _, ...bare } = along;
    expect(problemOf(() => calibrate(cv, BLANK, { kind: 'rods', rods: [bare, across] })).where).toBe('/rods/0/width');
    const [c] = along.corners;
    const heap = { ...along, corners: [c, c, c, c] as [P, P, P, P] };
    expect(problemOf(() => calibrate(cv, BLANK, { kind: 'rods', rods: [across, heap] })).where).toBe('/rods/1/corners');
  });

  test('a taped height of the camera makes a single rod surer', () => {
    const alone = { kind: 'rods' as const, rods: [along] };
    const plain = lengthOf(calibrate(cv, BLANK, alone), [150, 100], [2150, 500]);
    const height = EYE.distance * Math.cos((12 * Math.PI) / 180) * Math.cos((7 * Math.PI) / 180);
    const taped = lengthOf(calibrate(cv, BLANK, { ...alone, cameraHeight: height - ABOVE }), [150, 100], [2150, 500]);
    expect(taped?.sigma).toBeLessThan(plain?.sigma as number);
  });
});
