import { beforeAll, describe, expect, test } from 'vitest';
import { distance, type Point, rectangle, regionArea } from '../../src/geometry';
import { type Calibration, emptyFlitch, emptyJob, emptySlab, type Job, type Picture, type Scale } from '../../src/job';
import { type Cv, calibrate, findMarkers, measure, remeasure } from '../../src/photo';
import { recordRemeasure, recordScaled } from '../../src/plan';
import type { Raster } from '../../src/raster';
import { openCv } from '../photo/opencv';
import { card, type Eye, photograph, pixelOf } from '../photo/scene';

/** A photo measured again takes all that is drawn along with it: every spot stays on the pixel of the photo that it was on. */

const EYE: Eye = {
  width: 1600,
  height: 1200,
  focal: 1250,
  k1: -0.06,
  at: [900, 250],
  distance: 1900,
  pitch: 15,
  yaw: -6,
  roll: 2,
};
const SIDE = 100;
const markers = (side: number): Scale => ({ kind: 'markers', dictionary: '4x4_50', side });
const PLACE = { flitch: 'log', slab: 'slab', face: 'top', photo: 'p' } as const;
const PART = { minX: -1180, minY: -420, maxX: 1180, maxY: 420 };
const MM_PER_PX = 1.5;

let cv: Cv;
let photo: Raster;
/** Measured with a side that was typed wrong: all of it is a quarter too large. */
let before: Calibration;
beforeAll(async () => {
  ({ cv } = await openCv());
  const places = [
    [150, 90, 12],
    [1650, 60, -30],
    [1680, 450, 75],
    [120, 430, 160],
  ] as const;
  photo = photograph(
    EYE,
    places.map(([x, y, degrees], id) => card(cv, id, SIDE, [x, y], degrees)),
  );
  before = calibrate(cv, photo, markers(1.25 * SIDE));
}, 60_000);

function jobWith(calibration: Calibration): Job {
  const job = emptyJob('j', 'Job', '2026-11-25');
  const slab = emptySlab('slab', 1);
  const { top } = slab.faces;
  top.photos.p = { id: 'p', file: 'p.jpg', width: 1600, height: 1200, scale: markers(1.25 * SIDE), calibration };
  top.outline = { outer: rectangle<'face'>(-900, -250, 900, 250), holes: [rectangle<'face'>(100, 0, 140, 30)] };
  top.outlineSigma = 3;
  top.pith = [
    [-800, 10],
    [800, -20],
  ];
  top.defects.a = {
    id: 'a',
    kind: 'crack',
    permit: 'keyed',
    line: [
      [-900, 40, 3],
      [-600, 50, 1],
    ],
  };
  top.defects.b = { id: 'b', kind: 'knot', permit: 'allow', polygon: rectangle<'face'>(300, 20, 330, 50) };
  slab.marks = [
    [-700, 100],
    [700, 120],
  ];
  slab.spots.s = { id: 's', at: [200, 30], top: 4, bottom: null, thickness: null, sigma: 0.3 };
  job.flitches.log = { ...emptyFlitch('log', 'Log', 'walnut_black'), slabs: { slab } };
  return job;
}

const drawn = (job: Job): Point<'face'>[] => {
  const { faces, marks } = job.flitches.log!.slabs.slab!;
  const { outline, pith, defects } = faces.top;
  return [
    ...outline!.outer,
    ...outline!.holes.flat(),
    ...pith!,
    ...defects.a!.line!.map(([x, y]): Point<'face'> => [x, y]),
    ...defects.b!.polygon!,
    ...marks!,
  ];
};

function measuredAgain(scale: Scale) {
  const { calibration, picture } = remeasure(cv, photo, scale, { before, part: PART, mmPerPx: MM_PER_PX });
  const { raster, mmPerPx, x0, y0 } = picture;
  const kept: Picture = { file: 'new.jpg', mmPerPx, x0, y0, width: raster.width, height: raster.height };
  const job = jobWith(before);
  recordRemeasure(job, PLACE, calibration, kept);
  return { calibration, picture, job };
}

test('a face that is larger than its photo said: every spot stays on its pixel, lengths grow, and the doubt of the scale joins the ±', () => {
  const [was, job] = [jobWith(before), jobWith(before)];
  recordScaled(job, PLACE, 0.8, 0.002);
  const { top } = job.flitches.log!.slabs.slab!.faces;
  const { calibration, scale } = top.photos.p!;
  const [old, now] = [measure(before), measure(calibration!)];
  drawn(job).forEach((p, i) => {
    expect(distance(now.toPhoto(p), old.toPhoto(drawn(was)[i]!))).toBeLessThan(0.01);
  });
  // Its cards measure what they do: the scene's own side, and its own lengths.
  expect(scale).toMatchObject({ side: SIDE });
  const [a, b] = [pixelOf(EYE, [200, 250]), pixelOf(EYE, [1600, 250])];
  const [long, short] = [old.distance(a, b)!, now.distance(a, b)!];
  expect(short.mm).toBeCloseTo(0.8 * long.mm, 3);
  expect(Math.abs(short.mm - 1400)).toBeLessThan(3);
  expect(short.sigma).toBeCloseTo(Math.hypot(0.8 * long.sigma, 0.002 * short.mm), 1);
  expect(job.flitches.log!.slabs.slab!.spots.s!.at).toEqual([160, 24]);
});

describe('a photo measured again', () => {
  test('with the right side of its cards: nothing that was drawn leaves its pixel, and lengths come right', () => {
    const { calibration, job } = measuredAgain(markers(SIDE));
    const [old, now] = [measure(before), measure(calibration)];
    const was = drawn(jobWith(before));
    drawn(job).forEach((p, i) => {
      const [u, v] = now.toPhoto(p);
      const [u0, v0] = old.toPhoto(was[i]!);
      expect(Math.hypot(u - u0, v - v0)).toBeLessThan(0.01);
    });
    const { outline, defects } = job.flitches.log!.slabs.slab!.faces.top;
    const whole = regionArea(jobWith(before).flitches.log!.slabs.slab!.faces.top.outline!);
    expect(regionArea(outline!) / whole).toBeCloseTo(1 / 1.25 ** 2, 2);
    expect(defects.a!.line!.map(([, , width]) => width)).toEqual([3, 1]);
    // Two spots 1400 mm apart on the scene's own face.
    const [a, b] = [pixelOf(EYE, [200, 250]), pixelOf(EYE, [1600, 250])];
    expect(now.distance(a, b)!.mm).toBeGreaterThan(1400 - 3);
    expect(now.distance(a, b)!.mm).toBeLessThan(1400 + 3);
  });

  test('keeps the readings where they were taped, the photo its calibration, the face its new picture', () => {
    const { calibration, job } = measuredAgain(markers(SIDE));
    const { spots, faces } = job.flitches.log!.slabs.slab!;
    expect(spots.s!.at).toEqual([200, 30]);
    expect(faces.top.photos.p!.calibration).toBe(calibration);
    expect(faces.top.picture!.file).toBe('new.jpg');
  });

  test('its picture shows the same part of the face, true to scale: the cards in it have their side', () => {
    const { picture } = measuredAgain(markers(SIDE));
    const found = findMarkers(cv, picture.raster);
    expect(found.map(({ id }) => id)).toEqual([0, 1, 2, 3]);
    for (const { corners } of found) {
      expect(distance<'photo'>(corners[0], corners[1]) * MM_PER_PX).toBeGreaterThan(SIDE - 1.5);
      expect(distance<'photo'>(corners[0], corners[1]) * MM_PER_PX).toBeLessThan(SIDE + 1.5);
    }
    expect(picture.raster.width * MM_PER_PX).toBeGreaterThan((PART.maxX - PART.minX) / 1.25 - 40);
    expect(picture.raster.width * MM_PER_PX).toBeLessThan((PART.maxX - PART.minX) / 1.25 + 40);
  });

  test('with a true tape check is surer; a wrong one is refused with what it is off by, and changes nothing', () => {
    const px = [pixelOf(EYE, [100, 260]), pixelOf(EYE, [1700, 250])] as const;
    const plain = calibrate(cv, photo, markers(SIDE));
    const check = (length: number): Scale => ({ ...markers(SIDE), distances: [{ px: [px[0], px[1]], length }] });
    const length = Math.hypot(1600, 10);
    const taken = measuredAgain(check(length)).calibration;
    expect(taken.refused).toEqual([]);
    const sigma = (calibration: Calibration) => measure(calibration).distance(px[0], px[1])!.cameraSigma;
    expect(sigma(taken)).toBeLessThan(sigma(plain));
    const refused = measuredAgain(check(length - 80)).calibration;
    expect(refused.refused).toEqual([{ distance: 1, mm: expect.closeTo(80, -1) }]);
    expect(measure(refused).distance(px[0], px[1])!.mm).toBeCloseTo(measure(plain).distance(px[0], px[1])!.mm, 6);
  });

  test('of the underside leaves the marks of the upper face alone', () => {
    const { calibration } = measuredAgain(markers(SIDE));
    const job = jobWith(before);
    const slab = job.flitches.log!.slabs.slab!;
    slab.faces.bottom = slab.faces.top;
    slab.faces.top = emptySlab('x', 1).faces.top;
    recordRemeasure(job, { ...PLACE, face: 'bottom' }, calibration, {
      file: 'n',
      mmPerPx: 1,
      x0: 0,
      y0: 0,
      width: 1,
      height: 1,
    });
    expect(slab.marks).toEqual(jobWith(before).flitches.log!.slabs.slab!.marks);
    expect(slab.faces.bottom.outline!.outer[0]).not.toEqual([-900, -250]);
  });
});
