import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, lensLearnt, measure } from '../../src/photo';
import { runs } from '../support/runs';
import { openCv } from './opencv';
import { card, type Eye, photograph, pixelOf, sheet } from './scene';

/** What one photo teaches of a camera's lens is kept for the next, and dropped where the next speaks against it. */

const EYE: Eye = {
  width: 1800,
  height: 1350,
  focal: 1350,
  k1: -0.06,
  at: [1000, 250],
  distance: 1900,
  pitch: 22,
  yaw: -9,
  roll: 4,
};
const MARKERS = { kind: 'markers' as const, dictionary: '4x4_50' as const, side: 100 };
const EXIF = { exifFocal35: 0.75 * 35.3 };
const ENDS = [
  [200, 60],
  [1800, 440],
] as const;

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const cards = () => [
  card(cv, 1, 100, [150, 80], 10),
  card(cv, 2, 100, [1850, 60], -25),
  card(cv, 3, 100, [1830, 450], 50),
  card(cv, 4, 100, [170, 440], 120),
  card(cv, 5, 100, [1000, 250], 70),
];

describe('a lens that a photo of markers taught', () => {
  test('is the true one within its own sigmas, and makes a sheet alone measure much surer', () => {
    const lens = lensLearnt(calibrate(cv, photograph(EYE, cards()), MARKERS, EXIF));
    if (!lens) throw new Error('not learnt');
    expect(Math.abs(lens.focal - EYE.focal / EYE.width)).toBeLessThan(2.5 * lens.focalSigma);
    expect(Math.abs(lens.k1 - EYE.k1)).toBeLessThan(2.5 * lens.k1Sigma);
    const other: Eye = { ...EYE, pitch: 14, yaw: 10, roll: -3 };
    const photo = photograph(other, [sheet(297, 210, [980, 240], 6)]);
    const [a, b] = ENDS.map((p) => pixelOf(other, p)) as [[number, number], [number, number]];
    const paper = { kind: 'paper' as const, width: 297, height: 210 };
    const without = measure(calibrate(cv, photo, paper, EXIF)).distance(a, b);
    const kept = measure(calibrate(cv, photo, { ...paper, lens }, EXIF)).distance(a, b);
    expect(kept?.cameraSigma).toBeLessThan(0.6 * (without?.cameraSigma as number));
    expect(Math.abs((kept?.mm ?? 0) - Math.hypot(1600, 380))).toBeLessThan(2 * (kept?.sigma ?? 0));
  });

  test.runIf(process.env.SLOW)('of another camera is refused with a word, and changes nothing', () => {
    const photo = photograph(EYE, cards());
    const plain = calibrate(cv, photo, MARKERS, EXIF);
    const checked = calibrate(cv, photo, { ...MARKERS, lens: { focal: 0.95, k1: 0.02 } }, EXIF);
    expect(checked.lensRefused).toContain('0.950');
    expect(plain.lensRefused).toBeUndefined();
    const [a, b] = ENDS.map((p) => pixelOf(EYE, p)) as [[number, number], [number, number]];
    const [one, other] = [plain, checked].map((calibration) => measure(calibration).distance(a, b));
    expect(other?.mm).toBeCloseTo(one?.mm as number, 2);
    expect(other?.sigma).toBeCloseTo(one?.sigma as number, 2);
  });
});

test('one sheet alone does not teach a lens', () => {
  const photo = photograph(EYE, [sheet(297, 210, [980, 240], 6)]);
  expect(lensLearnt(calibrate(cv, photo, { kind: 'paper', width: 297, height: 210 }, EXIF))).toBeNull();
});

describe('points all over a face', () => {
  const blank = { width: EYE.width, height: EYE.height, channels: 1 as const, data: new Uint8Array(0) };
  const eyes = fc.record({
    // Square to the face, focal length and height cannot be told apart, and no lens is spoken against.
    pitch: fc.integer({ min: 18, max: 25 }),
    yaw: fc.integer({ min: -20, max: 20 }),
    focal: fc.integer({ min: 1200, max: 1500 }),
    k1: fc.double({ min: -0.12, max: 0.08, noNaN: true }),
  });
  const known = (eye: Eye) =>
    [0, 500, 1000, 1500, 2000].flatMap((x) =>
      [0, 250, 500].map((y) => ({ px: pixelOf(eye, [x, y]), mm: [x, y] as const })),
    );

  test('never refuse the true lens, and always one that is a third longer or shorter', () => {
    fc.assert(
      fc.property(eyes, fc.constantFrom(0.75, 1.33), (drawn, wrong) => {
        const eye: Eye = { ...EYE, ...drawn };
        const scale = { kind: 'points' as const, points: known(eye) };
        const lens = { focal: eye.focal / eye.width, k1: eye.k1 };
        expect(calibrate(cv, blank, { ...scale, lens }).lensRefused).toBeUndefined();
        const other = { ...lens, focal: lens.focal * wrong };
        expect(calibrate(cv, blank, { ...scale, lens: other }).lensRefused).toBeDefined();
      }),
      { numRuns: runs(15) },
    );
  });
});
