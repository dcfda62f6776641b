import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, measure, parallax } from '../../src/photo';
import { openCv } from './opencv';
import { type Eye, faceOf, pixelOf } from './scene';

/** Parallax in numbers, and tape checks, on points that a pinhole of another hand projected. */

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const EYE: Eye = {
  width: 4000,
  height: 3000,
  focal: 3000,
  k1: -0.03,
  at: [1200, 300],
  distance: 2200,
  pitch: 10,
  yaw: 6,
  roll: 2,
};
const blank = { width: 4000, height: 3000, channels: 1 as const, data: new Uint8Array(0) };
const known = (eye: Eye) =>
  [0, 600, 1200, 1800, 2400].flatMap((x) =>
    [0, 300, 600].map((y) => ({ px: pixelOf(eye, [x, y]), mm: [x, y] as const })),
  );
const eyes = fc.record({
  pitch: fc.integer({ min: -22, max: 22 }),
  yaw: fc.integer({ min: -22, max: 22 }),
  roll: fc.integer({ min: -10, max: 10 }),
  distance: fc.integer({ min: 1900, max: 3000 }),
});

describe('parallax', () => {
  test('is how far a spot off the plane seems to move in the photo', () => {
    fc.assert(
      fc.property(eyes, fc.integer({ min: -90, max: 40 }), fc.constantFrom(0, 2400), (drawn, off, x) => {
        const eye: Eye = { ...EYE, ...drawn };
        const calibration = calibrate(cv, blank, { kind: 'points', points: known(eye) });
        const spot = [x, 550] as const;
        const seemsAt = faceOf(eye, pixelOf(eye, spot, off));
        const moved = Math.hypot(seemsAt[0] - spot[0], seemsAt[1] - spot[1]);
        const { worst, at } = parallax(calibration, off, [spot]);
        expect(at).toEqual(spot);
        // The camera's height is known to a few parts in a hundred where plane and lens are hard to tell apart.
        expect(Math.abs(worst - moved)).toBeLessThan(0.05 * moved + 0.02);
      }),
      { numRuns: 20 },
    );
  });

  test('of the warp that is usual is within the ± that a photo has before its face is read', () => {
    for (const pitch of [5, 20]) {
      const eye: Eye = { ...EYE, pitch };
      const calibration = calibrate(cv, blank, { kind: 'points', points: known(eye) });
      for (const end of [
        [60, 300],
        [2340, 300],
      ] as const) {
        // Bow of 3.6 mm at the ends of 2.7 m is one standard deviation; of the mean plane that is two thirds.
        expect(measure(calibration).sigma(end)).toBeGreaterThan(0.7 * parallax(calibration, 2, [end]).worst);
      }
    }
  });

  test('a taped height makes the height surer, and the truth lies within both', () => {
    const corners = known(EYE).filter((_, i) => [0, 2, 12, 14].includes(i));
    const scale = { kind: 'points' as const, points: corners };
    const truth = EYE.distance * Math.cos((EYE.pitch * Math.PI) / 180) * Math.cos((EYE.yaw * Math.PI) / 180);
    const free = parallax(calibrate(cv, blank, scale), -40);
    const taped = parallax(calibrate(cv, blank, { ...scale, cameraHeight: truth + 12 }), -40);
    expect(taped.cameraHeightSigma).toBeLessThan(0.5 * free.cameraHeightSigma);
    for (const { cameraHeight, cameraHeightSigma } of [free, taped])
      expect(Math.abs(cameraHeight - truth)).toBeLessThan(2.5 * cameraHeightSigma);
  });
});

test('a tape check joins the fit where it agrees, and is refused with its disagreement where it does not', () => {
  const photo = known(EYE).filter((_, i) => i % 2 === 0);
  const scale = { kind: 'points' as const, points: photo };
  const spot = fc.tuple(fc.integer({ min: 0, max: 2400 }), fc.integer({ min: 0, max: 600 }));
  fc.assert(
    fc.property(spot, spot, fc.integer({ min: -60, max: 60 }), (a, b, error) => {
      const length = Math.hypot(a[0] - b[0], a[1] - b[1]);
      fc.pre(length > 400);
      const px: [[number, number], [number, number]] = [pixelOf(EYE, a), pixelOf(EYE, b)];
      const plain = calibrate(cv, blank, scale);
      const before = measure(plain).distance(...px);
      const after = calibrate(cv, blank, { ...scale, distances: [{ px, length: length + error }] });
      const sigma = Math.hypot(before?.sigma as number, 0.5);
      if (Math.abs(error) > 5 * sigma) {
        expect(after.outliers).toContain('distance 1');
        expect(Math.abs((after.refused[0]?.mm ?? 0) + error)).toBeLessThan(2 * sigma);
        expect(after.parameters).toEqual(plain.parameters);
      } else if (Math.abs(error) < 2 * sigma) {
        expect(after.refused).toEqual([]);
        expect(measure(after).distance(...px)?.cameraSigma).toBeLessThanOrEqual((before?.cameraSigma as number) + 1e-9);
        // It draws the length towards the tape.
        const toTape = (mm: number) => Math.abs(mm - length - error);
        expect(toTape(measure(after).distance(...px)?.mm ?? 0)).toBeLessThan(toTape(before?.mm ?? 0) + 0.05);
      }
    }),
    { numRuns: 25 },
  );
});
