import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { readPhoto } from '../../src/cli/photo-file';
import type { Point } from '../../src/geometry';
import { readJob, type Scale } from '../../src/job';
import { workingSize } from '../../src/photo';
import { calibrate } from '../../src/photo/calibrate';
import { measure } from '../../src/photo/measure';
import { rectify } from '../../src/photo/rectify';
import { settled, sightedIn } from '../../src/photo/sighted';
import { calibrationAt, scaleOfCopy } from '../../src/photo/working-copy';
import { rasterOf } from '../../src/raster';
import { openCv } from './opencv';

/** A large photo is read from a smaller copy, and nobody can tell but by the ±: pixels that go in and out are the photo's. */

describe('the size of a copy', () => {
  it('is the photo itself up to 12.6 million pixels', () => {
    for (const size of [
      { width: 4000, height: 3000 },
      { width: 3024, height: 4032 },
      { width: 1, height: 1 },
    ])
      expect(workingSize(size)).toEqual(size);
  });

  it("has the shape of cameras' photos to the pixel", () => {
    for (const [width, height] of [
      [8160, 6120],
      [6120, 8160],
      [9248, 6936],
      [8064, 6048],
      [8192, 6144],
      [6000, 4000],
      [7680, 4320],
    ] as const) {
      const copy = workingSize({ width, height });
      expect(copy.width * height, `${width} x ${height}`).toBe(copy.height * width);
    }
  });

  it('keeps any shape to within half a pixel, and nearly all pixels that it may have', () => {
    fc.assert(
      fc.property(fc.integer({ min: 100, max: 20_000 }), fc.integer({ min: 100, max: 20_000 }), (width, height) => {
        const copy = workingSize({ width, height });
        expect(copy.width * copy.height).toBeLessThanOrEqual(12.61e6);
        expect(Math.abs((copy.width * height) / width - copy.height)).toBeLessThanOrEqual(0.5 + 1e-9);
        if (width * height > 12.6e6) expect(copy.width * copy.height).toBeGreaterThan(0.95 * 12.6e6);
      }),
    );
  });
});

const { cv } = await openCv();
const { raster: photo } = await readPhoto('demo-images/slab-2.jpg', 'slab-2.jpg');
const job = readJob(JSON.parse(readFileSync('demo-images/job.json', 'utf8')));
const scale = job.flitches['log-7']?.slabs['slab-2']?.faces.top.photos.p1?.scale as Scale;
const HALF = { width: photo.width / 2, height: photo.height / 2 };
const { data } = await sharp(photo.data, { raw: { width: photo.width, height: photo.height, channels: 3 } })
  .resize(HALF.width, HALF.height)
  .raw()
  .toBuffer({ resolveWithObject: true });
const half = rasterOf(HALF.width, HALF.height, 3, data);
const whole = calibrate(cv, photo, scale);
const byCopy = settled(sightedIn(cv, half, scale, { full: photo }));
const pixel = fc.tuple(
  fc.double({ min: 400, max: 3600, noNaN: true }),
  fc.double({ min: 400, max: 2600, noNaN: true }),
);

describe('a camera seen in a copy', () => {
  it('shows the same spot of the face at the same spot of the picture', () => {
    const [view, small] = [measure(whole), measure(calibrationAt(whole, HALF))];
    fc.assert(
      fc.property(pixel, ([u, v]) => {
        const [p, q] = [view.place([u, v]), small.place([(u + 0.5) / 2 - 0.5, (v + 0.5) / 2 - 0.5])] as Point<'face'>[];
        expect(Math.hypot(p![0] - q![0], p![1] - q![1])).toBeLessThan(1e-6);
        const [x, y] = view.toPhoto(p!);
        expect(Math.hypot(x - u, y - v)).toBeLessThan(1e-3);
      }),
    );
    expect(calibrationAt(calibrationAt(whole, HALF), photo).parameters).toEqual(
      whole.parameters.map((p) => expect.closeTo(p, 9)),
    );
  });

  it("measures in the photo's pixels, as sure as the copy is, and agrees with the photo itself", () => {
    expect([byCopy.width, byCopy.height]).toEqual([photo.width, photo.height]);
    const [view, other] = [measure(whole), measure(byCopy)];
    fc.assert(
      fc.property(pixel, pixel, (a, b) => {
        const [one, two] = [view.distance(a, b), other.distance(a, b)];
        const apart = Math.abs(one!.mm - two!.mm);
        expect(apart).toBeLessThan(4 * Math.hypot(one!.sigma, two!.sigma) + 0.01);
      }),
    );
  });

  it('is calibrated by points and rods in pixels of the photo', () => {
    const view = measure(whole);
    const mm: Point<'face'>[] = [
      [-900, -150],
      [900, -150],
      [900, 150],
      [-900, 150],
      [0, 0],
    ];
    const points: Scale = { kind: 'points', points: mm.map((at) => ({ px: view.toPhoto(at), mm: at })) };
    const found = measure(settled(sightedIn(cv, half, points, { full: photo })));
    for (const at of mm) {
      const place = found.place(view.toPhoto(at)) as Point<'face'>;
      expect(Math.hypot(place[0] - at[0], place[1] - at[1])).toBeLessThan(2);
    }
    const rods: Scale = {
      kind: 'rods',
      rods: [
        {
          px: [
            [99.5, 199.5],
            [299.5, 399.5],
          ],
          length: 5,
          marks: [{ px: [199.5, 299.5], at: 2 }],
        },
      ],
      distances: [
        {
          px: [
            [9.5, 19.5],
            [29.5, 39.5],
          ],
          length: 7,
        },
      ],
      heights: [{ px: [49.5, 59.5], z: 1 }],
    };
    expect(scaleOfCopy(rods, photo, HALF)).toEqual({
      kind: 'rods',
      rods: [
        {
          px: [
            [49.5, 99.5],
            [149.5, 199.5],
          ],
          length: 5,
          marks: [{ px: [99.5, 149.5], at: 2 }],
        },
      ],
      distances: [
        {
          px: [
            [4.5, 9.5],
            [14.5, 19.5],
          ],
          length: 7,
        },
      ],
      heights: [{ px: [24.5, 29.5], z: 1 }],
    });
  });

  it('gives a face from the copy that shows what the photo does', () => {
    const options = { mmPerPx: 4 };
    const [one, two] = [rectify(cv, photo, whole, options), rectify(cv, half, whole, options)];
    expect([two.raster.width, two.raster.height, two.x0, two.y0]).toEqual([
      one.raster.width,
      one.raster.height,
      one.x0,
      one.y0,
    ]);
    const off = Array.from(one.raster.data).reduce(
      (sum, v, i) => sum + Math.abs(v - (two.raster.data[i] as number)),
      0,
    );
    expect(off / one.raster.data.length).toBeLessThan(3);
  });
});
