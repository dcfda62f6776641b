import { beforeAll, describe, expect, test } from 'vitest';
import { regionArea } from '../../src/geometry';
import { emptyFace, type Face, type Photo, type Picture } from '../../src/job';
import { calibrate, measure } from '../../src/photo';
import { turnedPicture, turnFace } from '../../src/plan';
import { openCv } from '../photo/opencv';
import { type Eye, photograph, pixelOf } from '../photo/scene';

const PICTURE: Picture = { file: 'faces/leaf.jpg', mmPerPx: 0.5, x0: -60, y0: -50, width: 1240, height: 520 };

const EYE: Eye = {
  width: 800,
  height: 600,
  focal: 700,
  k1: 0,
  at: [250, 80],
  distance: 900,
  pitch: 12,
  yaw: -5,
  roll: 3,
};
let photo: Photo;
beforeAll(async () => {
  const { cv } = await openCv();
  const corners = [
    [-50, -40],
    [560, -30],
    [550, 210],
    [-40, 200],
    [250, 90],
  ] as const;
  const scale = { kind: 'points' as const, points: corners.map((mm) => ({ px: pixelOf(EYE, mm), mm })) };
  const calibration = calibrate(cv, photograph(EYE, []), scale);
  photo = { id: 'p', file: 'photos/p.jpg', width: 800, height: 600, scale, calibration };
}, 60_000);

function face(): Face {
  return {
    ...emptyFace(),
    photos: { p: structuredClone(photo) },
    outline: {
      outer: [
        [0, 0],
        [500, 4],
        [497, 160],
        [3, 155],
      ],
      holes: [],
    },
    pith: [
      [10, 20],
      [400, 30],
    ],
    picture: PICTURE,
    defects: {
      d1: {
        id: 'd1',
        kind: 'crack',
        permit: 'keyed',
        line: [
          [40, 60, 2],
          [90, 64, 0],
        ],
      },
    },
  };
}

describe('a leaf turned end for end', () => {
  test('keeps its size and place; what was at its left end is at its right one', () => {
    const turned = face();
    turnFace(turned, PICTURE);
    expect(regionArea(turned.outline!)).toBeCloseTo(regionArea(face().outline!), 6);
    expect(turned.outline!.outer[0]).toEqual([500, 160]);
    expect(turned.defects.d1!.line![0]).toEqual([460, 100, 2]);
  });

  test('shows in its photo where it did', () => {
    const [was, is] = [face(), face()];
    turnFace(is, PICTURE);
    const [before, after] = [was, is].map(({ photos }) => measure(photos.p!.calibration!));
    was.outline!.outer.forEach((mm, i) => {
      const [u, v] = before!.toPhoto(mm);
      const [p, q] = after!.toPhoto(is.outline!.outer[i]!);
      expect([p, q]).toEqual([expect.closeTo(u, 4), expect.closeTo(v, 4)]);
    });
  });

  test('its picture covers the same wood, and twice is as before', () => {
    const once = face();
    const picture = { ...turnedPicture(once, PICTURE), file: 'faces/turned.jpg' };
    // The outline's box runs from (0, 0) to (500, 160): a margin of 60 stays 60 at the other end.
    expect([picture.x0 + picture.width * picture.mmPerPx, picture.y0 + picture.height * picture.mmPerPx]).toEqual([
      560, 210,
    ]);
    turnFace(once, picture);
    const back = { ...turnedPicture(once, picture), file: PICTURE.file };
    turnFace(once, back);
    expect(once.picture).toEqual(PICTURE);
    expect(once.outline).toEqual(face().outline);
    expect(once.defects).toEqual(face().defects);
    expect(once.pith).toEqual(face().pith);
  });
});
