import { readFile } from 'node:fs/promises';
import sharp from 'sharp';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Calibration, Scale } from '../../src/job';
import type { Cv } from '../../src/photo';
import { calibrate, measure } from '../../src/photo';
import type { Raster } from '../../src/raster';
import { openCv } from './opencv';

/** The demo job's two photos against the exact truth of their rendering (demo-images/README.md): warped slabs, four cards on each. */

interface Truth {
  readonly camera: {
    readonly K: number[][];
    readonly dist: number[];
    readonly R: number[][];
    readonly t: number[];
    readonly exif_f35_mm: number;
  };
  readonly warp_model: Record<'L' | 'yc' | 'W' | 'bow' | 'cup' | 'twist', number> & {
    waves: number[][];
    plane: number[];
  };
  readonly references: { readonly id: number; readonly corners_mm: [number, number][] }[];
  readonly check_distances: {
    readonly a_px: [number, number];
    readonly b_px: [number, number];
    readonly plan_mm: number;
  }[];
  readonly readings: {
    readonly x: number[];
    readonly y: number[];
    readonly top: {
      readonly rail_plane: Record<'a' | 'bx' | 'cy' | 'x_ref' | 'y_ref', number>;
      readonly gap_mm: (number | null)[][];
    };
  };
}

const SCALE = { kind: 'markers', dictionary: '4x4_50', side: 80 } as const;

let cv: Cv;
beforeAll(async () => {
  ({ cv } = await openCv());
});

async function photoOf(name: string): Promise<Raster> {
  const { data, info } = await sharp(`demo-images/${name}.jpg`)
    .removeAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { width: info.width, height: info.height, channels: 3, data };
}

const truthOf = async (name: string): Promise<Truth> =>
  JSON.parse(await readFile(`tests/fixtures/truth/${name}.json`, 'utf8')) as Truth;

/** The pixel of a point of the top face (truth's own formulas). */
function pixel({ camera, warp_model: w }: Truth, x: number, y: number): [number, number] {
  const [u, v] = [(2 * (x - w.L / 2)) / w.L, (2 * (y - w.yc)) / w.W];
  const waves = w.waves.reduce(
    (sum, [a, kx, ky, f]) => sum + (a as number) * Math.cos((kx as number) * x + (ky as number) * y + (f as number)),
    0,
  );
  const [p0, p1, p2] = w.plane as [number, number, number];
  const h = w.bow * u * u + w.cup * v * v + w.twist * u * v + waves - (p0 + p1 * x + p2 * y);
  const [X, Y, Z] = camera.R.map(
    (row, i) => (row[0] as number) * x + (row[1] as number) * y - (row[2] as number) * h + (camera.t[i] as number),
  ) as [number, number, number];
  const rr = (X / Z) ** 2 + (Y / Z) ** 2;
  const g = 1 + (camera.dist[0] as number) * rr + (camera.dist[1] as number) * rr * rr;
  const [kx, ky] = camera.K as [number[], number[]];
  return [((kx[0] as number) * X * g) / Z + (kx[2] as number), ((ky[1] as number) * Y * g) / Z + (ky[2] as number)];
}

/** Readings as a person took them, at the pixels where they were taken. */
function heightsOf(truth: Truth): NonNullable<Scale['heights']> {
  const { x, y, top } = truth.readings;
  const { a, bx, cy, x_ref, y_ref } = top.rail_plane;
  return y.flatMap((yj, j) =>
    x.flatMap((xi, i) => {
      const gap = top.gap_mm[j]?.[i];
      return gap == null ? [] : [{ px: pixel(truth, xi, yj), z: a + bx * (xi - x_ref) + cy * (yj - y_ref) - gap }];
    }),
  );
}

function misses(truth: Truth, calibration: Calibration) {
  const view = measure(calibration);
  return truth.check_distances.map(({ a_px, b_px, plan_mm }) => {
    const seen = view.distance(a_px, b_px);
    const off = Math.abs((seen?.mm ?? 0) - plan_mm);
    return { off, allowed: Math.max(2, 0.002 * plan_mm), sigmas: off / (seen?.sigma ?? 0) };
  });
}

describe.each(['slab-2', 'slab-3'])('%s', (name) => {
  test('with the readings of its warp, every check distance is within 0.2 % or 2 mm, and within its ±', async () => {
    const [photo, truth] = [await photoOf(name), await truthOf(name)];
    const scale = { ...SCALE, heights: heightsOf(truth) };
    const list = misses(truth, calibrate(cv, photo, scale, { exifFocal35: truth.camera.exif_f35_mm }));
    for (const { off, allowed } of list) expect(off).toBeLessThan(allowed);
    expect(list.filter(({ sigmas }) => sigmas <= 2).length).toBeGreaterThanOrEqual(list.length - 1);
  });

  test('without readings it is the warp that is not known, and the ± says so', async () => {
    const [photo, truth] = [await photoOf(name), await truthOf(name)];
    const list = misses(truth, calibrate(cv, photo, SCALE, { exifFocal35: truth.camera.exif_f35_mm }));
    expect(list.filter(({ off, allowed }) => off < allowed).length).toBeGreaterThanOrEqual(7);
    expect(list.filter(({ sigmas }) => sigmas <= 2.5).length).toBeGreaterThanOrEqual(8);
  });

  test("in the frame of the cards' measured places, points are where the slab has them", async () => {
    const [photo, truth] = [await photoOf(name), await truthOf(name)];
    const centres = Object.fromEntries(
      truth.references.map(({ id, corners_mm }) => [
        id,
        [0, 1].map((k) => Math.round(corners_mm.reduce((sum, p) => sum + (p[k] as number), 0) / 2) / 2) as unknown as [
          number,
          number,
        ],
      ]),
    );
    const view = measure(calibrate(cv, photo, { ...SCALE, centres, heights: heightsOf(truth) }));
    for (const [x, y] of [
      [300, 0],
      [1350, 100],
      [2300, -50],
    ] as const) {
      const [u, v] = view.place(pixel(truth, x, y)) as [number, number];
      expect(Math.hypot(u - x, v - y)).toBeLessThan(2);
    }
  });
});
