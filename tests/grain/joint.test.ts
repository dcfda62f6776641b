import { describe, expect, it } from 'vitest';
import { type FaceFeatures, faceFeatures, type JointLine, scoreJoint, seamWord } from '../../src/grain';
import type { FacePicture } from '../../src/raster';
import { helixFace, rectangleOf } from '../support/helix-log';

const SIZE = { width: 1000, height: 260, y0: 40 };
const KERF = 3;
const prepare = (pictures: readonly FacePicture[]): FaceFeatures[] =>
  faceFeatures(
    pictures.map((picture) => ({
      picture,
      outline: { outer: rectangleOf(SIZE.width, SIZE.height), holes: [] },
      defects: [],
    })),
    { kerf: KERF },
  );
const level = (y: number, keeps: JointLine['keeps'], x = 100, length = 700): JointLine => ({
  line: [
    [x, y],
    [x + length, y],
  ],
  keeps,
});

const pictures = [helixFace(-70, SIZE), helixFace(-15, SIZE)] as const;
const [one, two] = prepare(pictures) as [FaceFeatures, FaceFeatures];

describe('blend', () => {
  it('is near a half in the median over uncut wood with a kerf taken out', () => {
    const blends: number[] = [];
    for (const face of [one, two]) {
      for (const x of [20, 120, 280]) {
        for (let y = 6; y < 252; y += 5) {
          blends.push(scoreJoint(face, level(y, 'right', x), face, level(y + KERF, 'left', x)).blend);
        }
      }
    }
    blends.sort((a, b) => a - b);
    const median = blends[blends.length >> 1] as number;
    expect(median).toBeGreaterThan(0.4);
    expect(median).toBeLessThan(0.6);
  });

  it('says in words what a maker would', () => {
    expect([0.5, 0.2, 0.05, 0.01].map(seamWord)).toEqual(['disappears', 'hard to see', 'shows', 'plain to see']);
  });
});

describe('the cost of a joint', () => {
  it('is least for wood put back where it was cut, without a kerf', () => {
    for (const y of [80, 130, 180]) {
      const back = scoreJoint(one, level(y, 'right'), one, level(y, 'left'));
      expect(back.lines).toBeCloseTo(1, 5);
      for (const by of [-20, -6, 3, 9, 25]) {
        expect(scoreJoint(one, level(y, 'right'), one, level(y + by, 'left')).cost).toBeGreaterThan(back.cost);
      }
    }
  });

  it('stays the same when the joint is seen from behind', () => {
    const turned = ({ line: [p, q], keeps }: JointLine): JointLine => ({
      line: [q, p],
      keeps: keeps === 'left' ? 'right' : 'left',
    });
    const [a, b] = [level(120, 'right'), level(150, 'left', 140)];
    const there = scoreJoint(one, a, two, b);
    const back = scoreJoint(two, turned(b), one, turned(a));
    expect(back.cost).toBeCloseTo(there.cost, 4);
    expect(back.blend).toBeCloseTo(there.blend, 6);
  });

  it('stays the same when both slabs are mirrored end for end', () => {
    const mirror = ({ raster, ...place }: FacePicture): FacePicture => {
      const data = new Uint8Array(raster.data.length);
      for (let r = 0; r < raster.height; r++) {
        for (let c = 0; c < raster.width; c++) {
          const from = 3 * (r * raster.width + c);
          data.set(raster.data.subarray(from, from + 3), 3 * (r * raster.width + raster.width - 1 - c));
        }
      }
      return { raster: { ...raster, data }, ...place };
    };
    const [first, second] = prepare(pictures.map(mirror)) as [FaceFeatures, FaceFeatures];
    const there = scoreJoint(one, level(120, 'right', 100), two, level(150, 'left', 140));
    const x = (from: number) => SIZE.width - from - 700;
    const mirrored = scoreJoint(first, level(120, 'right', x(100)), second, level(150, 'left', x(140)));
    // Stations fall on the same pixels; the gradient at a station's rim is all that may differ.
    expect(mirrored.cost).toBeGreaterThan(0.97 * there.cost);
    expect(mirrored.cost).toBeLessThan(1.03 * there.cost);
  });

  it('counts stretches that cover the joint from end to end', () => {
    const { along } = scoreJoint(one, level(120, 'right'), two, level(150, 'left'));
    expect(along[0]?.from).toBe(0);
    expect(along.at(-1)?.to).toBeCloseTo(700, 6);
    for (const [i, { from }] of along.slice(1).entries()) expect(from).toBeCloseTo(along[i]?.to as number, 6);
  });
});

describe('faces that were not prepared together', () => {
  it('cannot be compared', () => {
    const [alone] = prepare([pictures[0]]) as [FaceFeatures];
    expect(() => scoreJoint(alone, level(120, 'right'), two, level(150, 'left'))).toThrow(RangeError);
  });
});
