import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, findMarkers, measure, rectify } from '../../src/photo';
import type { Raster } from '../../src/raster';
import { problemOf } from '../support/problem-of';
import { openCv } from './opencv';
import { card, type Eye, photograph, pixelOf, sheet, type Thing } from './scene';

const EYE: Eye = {
  width: 2000,
  height: 1500,
  focal: 1560,
  k1: -0.07,
  k2: 0.01,
  at: [1000, 250],
  distance: 2000,
  pitch: 13,
  yaw: -8,
  roll: 3,
};
const SIDE = 100;
const PLACES: Record<number, [number, number, number]> = {
  3: [180, 90, 12],
  7: [1800, 60, -30],
  11: [1850, 470, 75],
  20: [120, 430, 160],
};
const SCALE = { kind: 'markers' as const, dictionary: '4x4_50' as const, side: SIDE };
type P = [number, number];
const ENDS = [
  [
    [50, 0],
    [1950, 500],
  ],
  [
    [50, 500],
    [1950, 20],
  ],
  [
    [700, 30],
    [720, 480],
  ],
  [
    [300, 250],
    [1600, 260],
  ],
  [
    [1000, 100],
    [1400, 400],
  ],
] as [[number, number], [number, number]][];

let cv: Cv;
let cards: Thing[];
let photo: Raster;
beforeAll(async () => {
  ({ cv } = await openCv());
  cards = Object.entries(PLACES).map(([id, [x, y, degrees]]) => card(cv, Number(id), SIDE, [x, y], degrees));
  photo = photograph(EYE, cards);
});

/** Errors of lengths between spots of the face, as shares of each. */
const errors = (calibration: ReturnType<typeof calibrate>, see = (p: [number, number]) => pixelOf(EYE, p)) =>
  ENDS.map(([a, b]) => {
    const length = Math.hypot(a[0] - b[0], a[1] - b[1]);
    const seen = measure(calibration).distance(see(a), see(b));
    return { share: ((seen?.mm ?? 0) - length) / length, sigmas: ((seen?.mm ?? 0) - length) / (seen?.sigma ?? 0) };
  });
const worst = (calibration: ReturnType<typeof calibrate>, see?: (p: [number, number]) => [number, number]) =>
  Math.max(...errors(calibration, see).map(({ share }) => Math.abs(share)));

describe('square markers', () => {
  test('are found with their corners within a few tenths of a pixel, inside the true ones where white grows over black', () => {
    const markers = findMarkers(cv, photo);
    expect(markers.map(({ id }) => id)).toEqual([3, 7, 11, 20]);
    for (const { id, corners } of markers) {
      const [x, y, degrees] = PLACES[id] as [number, number, number];
      const [c, s] = [
        Math.cos((degrees * Math.PI) / 180) * (SIDE / 2),
        Math.sin((degrees * Math.PI) / 180) * (SIDE / 2),
      ];
      const truth = pixelOf(EYE, [x - c + s, y - s - c]);
      expect(Math.hypot(corners[0][0] - truth[0], corners[0][1] - truth[1])).toBeLessThan(0.6);
    }
  });

  test('at unknown places measure lengths all over the slab to 0.1 %', () => {
    const calibration = calibrate(cv, photo, SCALE, { exifFocal35: 28 });
    expect(worst(calibration)).toBeLessThan(0.001);
    expect(calibration.outliers).toEqual([]);
    for (const { sigmas } of errors(calibration)) expect(Math.abs(sigmas)).toBeLessThan(2);
  });

  test('do so without EXIF', () => {
    expect(worst(calibrate(cv, photo, SCALE))).toBeLessThan(0.0015);
  });

  test('teach the lens', () => {
    const calibration = calibrate(cv, photo, SCALE, { exifFocal35: 28 });
    expect(calibration.lens?.focal).toBeCloseTo(EYE.focal / EYE.width, 1);
    expect(Math.abs((calibration.lens?.k1 ?? 0) - EYE.k1)).toBeLessThan(0.02);
  });

  test('give the same lengths when the photo is turned by a quarter', () => {
    const { width, height, data } = photo;
    const turned = new Uint8ClampedArray(data.length);
    for (let r = 0; r < height; r++)
      for (let c = 0; c < width; c++) turned[c * height + (height - 1 - r)] = data[r * width + c] as number;
    const upright = calibrate(cv, photo, SCALE);
    const quarter = calibrate(cv, { width: height, height: width, channels: 1, data: turned }, SCALE);
    for (const [a, b] of ENDS) {
      const [p, q] = [pixelOf(EYE, a), pixelOf(EYE, b)];
      const turn = ([u, v]: [number, number]): [number, number] => [height - 1 - v, u];
      const one = measure(upright).distance(p, q)?.mm as number;
      const other = measure(quarter).distance(turn(p), turn(q))?.mm as number;
      expect(Math.abs(other / one - 1)).toBeLessThan(2e-4);
    }
  });

  test('set a frame with x along the slab and y clockwise from it, whatever way the camera was held', () => {
    const view = measure(calibrate(cv, photo, SCALE));
    const [a, b, c] = (
      [
        [300, 250],
        [1700, 250],
        [300, 350],
      ] as const
    ).map((p) => view.place(pixelOf(EYE, p))) as [P, P, P];
    const along = [b[0] - a[0], b[1] - a[1]] as const;
    const across = [c[0] - a[0], c[1] - a[1]] as const;
    expect(Math.abs(along[1] / along[0])).toBeLessThan(0.02);
    expect(along[0] * across[1] - along[1] * across[0]).toBeGreaterThan(0);
  });

  test('with measured places are in the frame of those', () => {
    const centres = Object.fromEntries(Object.entries(PLACES).map(([id, [x, y]]) => [id, [x, y] as const]));
    const view = measure(calibrate(cv, photo, { ...SCALE, centres }));
    for (const mm of [
      [60, 30],
      [1000, 250],
      [1900, 480],
    ] as const) {
      const [x, y] = view.place(pixelOf(EYE, mm)) as [number, number];
      expect(Math.hypot(x - mm[0], y - mm[1])).toBeLessThan(1);
    }
  });

  test('one alone works, and says that it knows little', () => {
    const one = photograph(EYE, cards.slice(0, 1));
    const alone = measure(calibrate(cv, one, SCALE, { exifFocal35: 28 })).distance(
      pixelOf(EYE, [50, 0]),
      pixelOf(EYE, [1950, 500]),
    );
    const all = measure(calibrate(cv, photo, SCALE, { exifFocal35: 28 })).distance(
      pixelOf(EYE, [50, 0]),
      pixelOf(EYE, [1950, 500]),
    );
    expect(Math.abs((alone?.mm ?? 0) - Math.hypot(1900, 500))).toBeLessThan(2.5 * (alone?.sigma ?? 0));
    expect(alone?.sigma).toBeGreaterThan(2 * (all?.sigma ?? 0));
  });

  test('a marker printed at another size is left out by its name', () => {
    const wrong = card(cv, 30, SIDE * 1.15, [1000, 450], 5);
    const calibration = calibrate(cv, photograph(EYE, [...cards, wrong]), SCALE);
    expect(calibration.outliers).toEqual(['marker 30']);
    expect(worst(calibration)).toBeLessThan(0.0015);
  });

  test('a measured place that was mistyped is left out with its marker', () => {
    const centres = Object.fromEntries(Object.entries(PLACES).map(([id, [x, y]]) => [id, [x, y] as const]));
    const calibration = calibrate(cv, photo, { ...SCALE, centres: { ...centres, 7: [1600, 60] } });
    expect(calibration.outliers).toEqual(['marker 7']);
  });
});

describe('a tape check', () => {
  const px = [pixelOf(EYE, [50, 0]), pixelOf(EYE, [1950, 500])] as const;
  const length = Math.hypot(1900, 500);

  test('that agrees makes the same length surer', () => {
    const before = measure(calibrate(cv, photo, SCALE)).distance(...px);
    const after = measure(calibrate(cv, photo, { ...SCALE, distances: [{ px: [...px], length }] })).distance(...px);
    expect(after?.cameraSigma).toBeLessThan(before?.cameraSigma as number);
    expect(Math.abs((after?.mm ?? 0) - length)).toBeLessThan(1);
  });

  test('that was misread is refused with its disagreement, and changes nothing', () => {
    const plain = calibrate(cv, photo, SCALE);
    const checked = calibrate(cv, photo, { ...SCALE, distances: [{ px: [...px], length: length + 100 }] });
    expect(checked.outliers).toEqual(['distance 1']);
    expect(checked.refused[0]?.mm).toBeCloseTo(-100, -1);
    expect(checked.parameters).toEqual(plain.parameters);
  });
});

describe('a photo that cannot serve', () => {
  test('no marker: a sentence, and the way on', () => {
    const fault = problemOf(() => calibrate(cv, photograph(EYE, []), SCALE));
    expect(fault.message).toContain('No square marker');
    expect(fault.mend).toContain('four points by hand');
  });

  test('a blurred photo is called so', () => {
    const fault = problemOf(() => calibrate(cv, photograph(EYE, cards, 14), SCALE));
    expect(fault.message).toMatch(/blurred|No square marker/);
    expect(fault.mend).toContain('four points by hand');
  });

  test('the same marker twice', () => {
    const fault = problemOf(() => calibrate(cv, photograph(EYE, [...cards, card(cv, 7, SIDE, [900, 430], 20)]), SCALE));
    expect(fault.message).toContain('Marker 7 is in this photo twice');
  });

  test('measured places that mirror the photo', () => {
    const centres = Object.fromEntries(Object.entries(PLACES).map(([id, [x, y]]) => [id, [x, -y] as const]));
    const fault = problemOf(() => calibrate(cv, photo, { ...SCALE, centres }));
    expect([fault.where, fault.message]).toEqual(['/centres', expect.stringContaining('mirror image')]);
  });
});

test('a rectified face shows each card where and as large as it is', () => {
  const centres = Object.fromEntries(Object.entries(PLACES).map(([id, [x, y]]) => [id, [x, y] as const]));
  const picture = rectify(cv, photo, calibrate(cv, photo, { ...SCALE, centres }), {
    mmPerPx: 1,
    bounds: { minX: 0, minY: -50, maxX: 2000, maxY: 600 },
  });
  expect([picture.raster.width, picture.raster.height, picture.x0, picture.y0]).toEqual([2000, 650, 0, -50]);
  for (const { id, corners } of findMarkers(cv, picture.raster)) {
    const [x, y] = PLACES[id] as [number, number, number];
    const [u, v] = [0, 1].map((k) => corners.reduce((sum, p) => sum + (p[k] as number) / 4, 0)) as [number, number];
    expect(Math.hypot(u + 0.5 + picture.x0 - x, v + 0.5 + picture.y0 - y)).toBeLessThan(0.5);
    const side = Math.hypot(corners[0][0] - corners[1][0], corners[0][1] - corners[1][1]);
    expect(Math.abs(side - SIDE)).toBeLessThan(1.2);
  }
  expect(findMarkers(cv, picture.raster)).toHaveLength(4);
});

test('a photo of another size than was calibrated is refused', () => {
  const calibration = calibrate(cv, photo, SCALE);
  const other: Raster = { width: 20, height: 10, channels: 1, data: new Uint8Array(200) };
  expect(problemOf(() => rectify(cv, other, calibration, { mmPerPx: 1 })).message).toContain('20 x 10');
});

describe('one white sheet', () => {
  const paper = { kind: 'paper' as const, width: 297, height: 210 };

  test('is found by itself, either way round, and with the lens known measures near it to 0.5 %', () => {
    for (const degrees of [8, 97]) {
      const view = calibrate(cv, photograph(EYE, [sheet(297, 210, [950, 250], degrees)]), {
        ...paper,
        lens: { focal: EYE.focal / EYE.width, k1: EYE.k1 },
      });
      const seen = measure(view).distance(pixelOf(EYE, [700, 200]), pixelOf(EYE, [1250, 330]));
      expect(Math.abs((seen?.mm ?? 0) / Math.hypot(550, 130) - 1)).toBeLessThan(0.005);
    }
  });

  test('is not mistaken for the cards of markers', () => {
    const fault = problemOf(() => calibrate(cv, photo, paper));
    expect(fault.message).toContain('No white sheet');
  });
});
