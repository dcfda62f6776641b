import { beforeAll, describe, expect, test } from 'vitest';
import type { Cv } from '../../src/photo';
import { calibrate, measure } from '../../src/photo';
import type { Raster } from '../../src/raster';
import { problemOf } from '../support/problem-of';
import { openCv } from './opencv';
import { type Eye, photograph, pixelOf, sheet, type Thing } from './scene';

/** One sheet of paper: found in shadow, half covered, overexposed; or refused with a sentence that says what is the matter. */

const EYE: Eye = {
  width: 2000,
  height: 1500,
  focal: 1560,
  k1: -0.04,
  at: [1000, 250],
  distance: 2000,
  pitch: 15,
  yaw: -6,
  roll: 3,
};
const LENS = { focal: EYE.focal / EYE.width, k1: EYE.k1 };
const A4 = { kind: 'paper' as const, width: 297, height: 210, lens: LENS };

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

const ENDS = [
  [
    [700, 200],
    [1250, 330],
  ],
  [
    [300, 100],
    [1700, 420],
  ],
  [
    [980, 20],
    [1020, 480],
  ],
] as const;

/** Errors of lengths, as shares and in sigmas. */
function errors(photo: Raster, scale: Parameters<typeof calibrate>[2] = A4, eye = EYE) {
  const view = measure(calibrate(cv, photo, scale, { exifFocal35: 28 }));
  return ENDS.map(([a, b]) => {
    const seen = view.distance(pixelOf(eye, a), pixelOf(eye, b));
    const off = (seen?.mm ?? 0) - Math.hypot(a[0] - b[0], a[1] - b[1]);
    return { share: Math.abs(off) / Math.hypot(a[0] - b[0], a[1] - b[1]), sigmas: Math.abs(off) / (seen?.sigma ?? 0) };
  });
}

function right(list: ReturnType<typeof errors>, share = 0.004) {
  for (const error of list) {
    expect(error.share).toBeLessThan(share);
    expect(error.sigmas).toBeLessThan(2);
  }
}

describe('is measured by', () => {
  test.each([97, -50])(
    'whichever way round it lies (%i degrees), to four in a thousand with the lens known',
    (degrees) => {
      right(errors(photograph(EYE, [sheet(297, 210, [950, 250], degrees)])));
    },
  );

  test('with the edge of a shadow across its middle, which leaves half a sheet of the same proportion', () => {
    const shade = (x: number) => (x > 950 ? 0.45 : 1);
    right(errors(photograph(EYE, [sheet(297, 210, [950, 250], 0)], 1.4, shade)));
  });

  test.runIf(process.env.SLOW)('in a shadow in which it is darker than the sunlit wood, by its want of colour', () => {
    const eye = { ...EYE, width: 1200, height: 900, focal: 936 };
    const shade = (x: number) => (Math.abs(x - 950) < 300 ? 0.3 : 1);
    const channels = [0.5, 0.36, 0.27].map((tone) => {
      const wood: Thing = { at: [1000, 250], reach: 1e5, white: () => (tone - 0.05) / 0.75 };
      return photograph(eye, [sheet(297, 210, [950, 250], 10), wood], 1.4, shade).data;
    });
    const data = new Uint8ClampedArray(3 * eye.width * eye.height);
    channels.forEach((channel, c) => {
      for (let i = 0; i < channel.length; i++) data[3 * i + c] = channel[i] as number;
    });
    right(errors({ width: eye.width, height: eye.height, channels: 3, data }, A4, eye), 0.006);
  });

  test('with a pencil lying over one edge', () => {
    const pencil: Thing = {
      at: [950, 145],
      reach: 80,
      white: (x, y) => (Math.abs(x - 940 - 0.3 * (y - 145)) < 5 && Math.abs(y - 145) < 60 ? 0.2 : null),
    };
    right(errors(photograph(EYE, [pencil, sheet(297, 210, [950, 250], 0)])));
  });

  test('overexposed: it seems larger than it is, and the ± knows', () => {
    for (const { share, sigmas } of errors(photograph(EYE, [sheet(297, 210, [950, 250], 8)], 1.4, () => 2.2))) {
      expect(share).toBeLessThan(0.01);
      expect(sigmas).toBeLessThan(2.5);
    }
  });
});

describe('is refused', () => {
  const small = { ...EYE, width: 1200, height: 900, focal: 936 };
  const fault = (things: readonly Thing[], scale: Parameters<typeof calibrate>[2] = A4, eye = small) =>
    problemOf(() => calibrate(cv, photograph(eye, things), scale, { exifFocal35: 28 }));

  test('crumpled: its sides are not straight', () => {
    const flat = sheet(297, 210, [950, 250], 0);
    const wave = (t: number) => 5 * Math.sin(t / 13) + 4 * Math.sin(t / 29 + 1);
    const { message, mend } = fault([{ ...flat, white: (x, y) => flat.white(x + wave(y), y + wave(x)) }]);
    expect(message).toMatch(/four sides|No white sheet/);
    expect(mend).toContain('four points by hand');
  });

  test('half covered by a board', () => {
    const board: Thing = { at: [1050, 250], reach: 400, white: (x) => (x > 900 && x < 1200 ? 0.15 : null) };
    const { mend } = fault([board, sheet(297, 210, [950, 250], 0)]);
    expect(mend).toContain('four points by hand');
  });

  test.runIf(process.env.SLOW)('of another size than was said, by its name', () => {
    const { message, where } = fault([sheet(297, 210, [950, 250], 8)], { ...A4, width: 279.4, height: 215.9 }, EYE);
    expect([where, message]).toEqual(['/width', expect.stringContaining('A4')]);
    expect(fault([sheet(279.4, 215.9, [950, 250], 8)], A4, EYE).message).toContain('US Letter');
  });
});
