import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, measure, toFace, toPhoto } from '../../src/photo';
import { openCv } from './opencv';
import { type Eye, faceOf, pixelOf, poseOf } from './scene';

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const blank = (eye: Eye) => ({ width: eye.width, height: eye.height, channels: 1 as const, data: new Uint8Array(0) });

const EYE: Eye = {
  width: 4000,
  height: 3000,
  focal: 3100,
  k1: -0.08,
  k2: 0.01,
  at: [1200, 300],
  distance: 2200,
  pitch: 14,
  yaw: -9,
  roll: 5,
};

/** Points known without error, all over the face. */
const known = (eye: Eye) =>
  [0, 600, 1200, 1800, 2400].flatMap((x) =>
    [-100, 250, 650].map((y) => ({ px: pixelOf(eye, [x, y]), mm: [x, y] as const })),
  );

describe('a camera fitted to points that a pinhole of another hand projected', () => {
  test('puts every other point where it is, to a tenth of a millimetre', () => {
    const view = measure(calibrate(cv, blank(EYE), { kind: 'points', points: known(EYE) }));
    for (const mm of [
      [100, 0],
      [700, 500],
      [1500, -50],
      [2350, 640],
    ] as const) {
      const [x, y] = view.place(pixelOf(EYE, mm)) as [number, number];
      expect(Math.hypot(x - mm[0], y - mm[1])).toBeLessThan(0.1);
    }
  });

  test('agrees with OpenCV projectPoints on the same camera, and its homography with findHomography', () => {
    const calibration = calibrate(cv, blank(EYE), { kind: 'points', points: known(EYE) });
    const p = calibration.parameters as number[];
    const mat = (rows: number, cols: number, type: number, values: number[]) =>
      cv.matFromArray(rows, cols, type, values);
    const spots = [
      [0, 0],
      [900, 420],
      [2300, -80],
      [1700, 600],
    ] as const;
    const object = mat(
      4,
      1,
      cv.CV_64FC3,
      spots.flatMap(([x, y]) => [x, y, 0]),
    );
    const rvec = mat(3, 1, cv.CV_64FC1, p.slice(0, 3));
    const tvec = mat(3, 1, cv.CV_64FC1, p.slice(3, 6));
    const K = mat(3, 3, cv.CV_64FC1, [p[6], 0, p[8], 0, p[6], p[9], 0, 0, 1] as number[]);
    const lens = mat(1, 4, cv.CV_64FC1, [p[7], p[10], 0, 0] as number[]);
    const plain = mat(1, 4, cv.CV_64FC1, [0, 0, 0, 0]);
    const [image, ideal] = [new cv.Mat(), new cv.Mat()];
    cv.projectPoints(object, rvec, tvec, K, lens, image);
    cv.projectPoints(object, rvec, tvec, K, plain, ideal);
    spots.forEach((mm, i) => {
      const [u, v] = toPhoto(calibration, mm);
      expect(u).toBeCloseTo(image.data64F[2 * i] as number, 6);
      expect(v).toBeCloseTo(image.data64F[2 * i + 1] as number, 6);
    });
    const found = cv.findHomography(
      mat(
        4,
        1,
        cv.CV_64FC2,
        spots.flatMap((q) => [...q]),
      ),
      ideal,
    );
    const h = calibration.homography;
    found.data64F.forEach((value, i) => {
      expect(value).toBeCloseTo((h[i] as number) / (h[8] as number), 4);
    });
  });

  test('stands where OpenCV solvePnP puts a camera of the same lens', () => {
    const calibration = calibrate(cv, blank(EYE), {
      kind: 'points',
      points: known(EYE),
      lens: { focal: EYE.focal / 4000, k1: EYE.k1 },
    });
    const { t } = poseOf(EYE);
    const p = calibration.parameters as number[];
    for (const k of [0, 1, 2]) expect(Math.abs((p[3 + k] as number) - (t[k] as number))).toBeLessThan(3);
    const mat = (rows: number, cols: number, type: number, values: number[]) =>
      cv.matFromArray(rows, cols, type, values);
    const [rvec, tvec] = [new cv.Mat(), new cv.Mat()];
    const points = known(EYE);
    cv.solvePnP(
      mat(
        points.length,
        1,
        cv.CV_64FC3,
        points.flatMap(({ mm }) => [...mm, 0]),
      ),
      mat(
        points.length,
        1,
        cv.CV_64FC2,
        points.flatMap(({ px }) => [...px]),
      ),
      mat(3, 3, cv.CV_64FC1, [p[6], 0, p[8], 0, p[6], p[9], 0, 0, 1] as number[]),
      mat(1, 4, cv.CV_64FC1, [p[7], p[10], 0, 0] as number[]),
      rvec,
      tvec,
    );
    for (const k of [0, 1, 2]) {
      expect(p[k]).toBeCloseTo(rvec.data64F[k] as number, 3);
      expect(Math.abs((p[3 + k] as number) - (tvec.data64F[k] as number))).toBeLessThan(1);
    }
  });

  test('there and back is the same point, for any camera that sees it', () => {
    const eyes = fc.record({
      pitch: fc.integer({ min: -25, max: 25 }),
      yaw: fc.integer({ min: -25, max: 25 }),
      roll: fc.integer({ min: -180, max: 180 }),
      distance: fc.integer({ min: 1800, max: 3500 }),
      k1: fc.double({ min: -0.12, max: 0.12, noNaN: true }),
    });
    fc.assert(
      fc.property(eyes, fc.integer({ min: 0, max: 2400 }), fc.integer({ min: -100, max: 650 }), (eye, x, y) => {
        const camera: Eye = { ...EYE, ...eye, focal: 2400 };
        const calibration = calibrate(cv, blank(camera), { kind: 'points', points: known(camera) });
        const px = toPhoto(calibration, [x, y]);
        const back = toFace(calibration, px);
        expect(back?.mm[0]).toBeCloseTo(x, 6);
        expect(back?.mm[1]).toBeCloseTo(y, 6);
        const [tx, ty] = faceOf(camera, px);
        // Seen square and from near, plane and lens can hardly be told apart and what is believed of lenses pulls: 1.6 mm (0.06 %) was
        // measured at a bad corner of these cameras, where the ± is nine times that. Two fixed bounds and a quarter of the sigma, all guesses, were
        // disproved by random cameras; what is claimed is the sigma.
        expect(Math.hypot(tx - x, ty - y)).toBeLessThan(back?.sigma ?? 0);
      }),
      { numRuns: 25, examples: [[{ pitch: 0, yaw: 0, roll: -58, distance: 1800, k1: 0.12 }, 0, 0]] },
    );
  });

  test('heights take parallax out: wood that stands out is measured where it is', () => {
    const out = ([x, y]: readonly [number, number]) => 14 * ((x - 1200) / 1200) ** 2 - 6 * ((y - 275) / 375) ** 2;
    const grid = [0, 300, 600, 900, 1200, 1500, 1800, 2100, 2400].flatMap((x) =>
      [-100, 100, 275, 450, 650].map((y) => [x, y] as const),
    );
    const points = known(EYE).map(({ mm }) => ({ mm, px: pixelOf(EYE, mm, out(mm)) }));
    const heights = grid.map((mm) => ({ px: pixelOf(EYE, mm, out(mm)), z: out(mm) }));
    const view = (withHeights: boolean) =>
      measure(calibrate(cv, blank(EYE), { kind: 'points', points, ...(withHeights ? { heights } : {}) }));
    const worst = (withHeights: boolean) =>
      Math.max(
        ...(
          [
            [150, 0],
            [450, 550],
            [1350, 200],
            [2250, 600],
          ] as const
        ).map((mm) => {
          const [x, y] = view(withHeights).place(pixelOf(EYE, mm, out(mm))) as [number, number];
          return Math.hypot(x - mm[0], y - mm[1]);
        }),
      );
    expect(worst(true)).toBeLessThan(0.5);
    expect(worst(false)).toBeGreaterThan(2 * worst(true));
  });

  test('a drop lifts the measured plane: points on a bench measure the board above it', () => {
    const drop = 40;
    const points = known(EYE).map(({ mm }) => ({ mm, px: pixelOf(EYE, mm, -drop) }));
    const view = measure(calibrate(cv, blank(EYE), { kind: 'points', points, drop }));
    for (const mm of [
      [100, 0],
      [2300, 600],
    ] as const) {
      const [x, y] = view.place(pixelOf(EYE, mm)) as [number, number];
      expect(Math.hypot(x - mm[0], y - mm[1])).toBeLessThan(0.6);
    }
  });
});
