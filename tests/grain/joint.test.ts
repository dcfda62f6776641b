import { describe, expect, it } from 'vitest';
import type { Point } from '../../src/geometry';
import { type FaceFeatures, faceFeatures, type JointLine, scoreJoint, seamWord } from '../../src/grain';
import { readEdge } from '../../src/grain/edge';
import { ANGLES } from '../../src/grain/side-features';
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

  it('hangs on no last digit of its ends, also where its length is halfway between two counts of stretches or stations', () => {
    // 5 mm a station, 100 mm a block, 200 mm a stretch: 37 1/2 in is 952.5 mm.
    for (const length of [300, 500, 552.5, 700, 850, 952.5]) {
      const at = scoreJoint(one, level(120, 'right', 20, length), two, level(150, 'left', 30, length));
      for (const more of [-1e-9, 1e-9]) {
        const near = scoreJoint(one, level(120, 'right', 20, length), two, level(150, 'left', 30, length + more));
        const turned = scoreJoint(one, level(120, 'right', 20, length + more), two, level(150, 'left', 30, length));
        for (const { blend, along } of [near, turned]) {
          expect(along.length).toBe(at.along.length);
          expect(blend).toBeCloseTo(at.blend, 6);
        }
      }
    }
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

describe('lines drawn along the grain', () => {
  const drawn = (grainLines: readonly (readonly Point<'face'>[])[]) =>
    faceFeatures(
      pictures.map((picture, i) => ({
        picture,
        outline: { outer: rectangleOf(SIZE.width, SIZE.height), holes: [] },
        defects: [],
        ...(i === 0 && { grainLines }),
      })),
      { kerf: KERF },
    )[0] as FaceFeatures;
  /** One side of a line at row y, that of more y, over one station. */
  const side = (face: FaceFeatures, x: number, y: number): Float32Array => readEdge(face, x, y, x + 5, y, true).raw;
  /** Grain next to the line, as joints read it, degrees; and how sure. */
  const read = (face: FaceFeatures, x: number, y: number): readonly [degrees: number, sure: number] => {
    const raw = side(face, x, y);
    return [raw[ANGLES[0]] as number, raw[ANGLES[0] + 4] as number];
  };
  const same = (a: Float32Array, b: Float32Array): boolean => a.length === b.length && a.every((v, i) => v === b[i]);
  /** Through (500, 128) at an angle: in the middle of the 15 mm beside a joint at row 120. */
  const slanted = (degrees: number): Point<'face'>[] => {
    const a = (degrees * Math.PI) / 180;
    return [-80, 80].map((s) => [500 + s * Math.cos(a), 128 + s * Math.sin(a)]);
  };

  it('are the direction that joints beside them are judged by, and sure', () => {
    for (const degrees of [-20, -5, 12, 25]) {
      const [seen, sure] = read(drawn([slanted(degrees)]), 500, 120);
      expect(seen).toBeCloseTo(degrees, 0);
      expect(sure).toBeGreaterThan(0.95);
    }
  });

  it('change nothing where they are not, nor anything of colour and lines', () => {
    const face = drawn([slanted(20)]);
    // Sums run down a column in single precision: what is added above a spot rounds there.
    for (const x of [100, 300, 380, 700, 900])
      for (const y of [20, 60, 200])
        for (const k of [0, 1] as const) expect(read(face, x, y)[k]).toBeCloseTo(read(one, x, y)[k], 3);
    expect(same(face.lines, one.lines)).toBe(true);
    const nothing = drawn([[[500, 128]]]);
    for (const y of [60, 120, 200]) expect(same(side(nothing, 500, y), side(one, 500, y))).toBe(true);
  });

  it('say the same from either end', () => {
    const line = slanted(14);
    const [there, back] = [drawn([line]), drawn([[...line].reverse()])];
    for (const y of [100, 120, 140]) expect(same(side(back, 500, y), side(there, 500, y))).toBe(true);
  });

  it('make a joint dearer where they say that the grain meets at an angle, and leave it where they say what is so', () => {
    const across = (face: FaceFeatures) => scoreJoint(face, level(120, 'right'), face, level(120 + KERF, 'left')).cost;
    // Behind the joint only: the line in front keeps what was read.
    const behind = (degrees: number): Point<'face'>[][] =>
      [200, 350, 500, 650].map((x) => {
        const a = (degrees * Math.PI) / 180;
        return [-70, 70].map((s): Point<'face'> => [x + s * Math.cos(a), 165 + s * Math.sin(a)]);
      });
    const [degrees] = read(one, 400, 150);
    const [as, askew] = [across(drawn(behind(degrees))), across(drawn(behind(degrees + 20)))];
    const plain = across(one);
    expect(askew).toBeGreaterThan(plain + 0.15);
    expect(Math.abs(as - plain)).toBeLessThan(0.3 * (askew - plain));
  });
});
