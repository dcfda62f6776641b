import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Point, rectangle } from '../../src/geometry';
import type { Strip } from '../../src/job';
import { clearances } from '../../src/layout/clearance';
import { prepareStock } from '../../src/layout/stock';
import { wavyJob } from '../support/wavy-slabs';

/** A slab of 2,000 x 500 with straight edges, a strip on it, and what room it must have: plain subtraction. */
const strip = (box: readonly [number, number, number, number], degrees = 0): Strip => {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  const turn = ([x, y]: Point<'face'>): Point<'face'> => [
    1000 + cos * (x - 1000) - sin * (y - 250),
    250 + sin * (x - 1000) + cos * (y - 250),
  ];
  const finished = rectangle<'face'>(...box).map(turn);
  return {
    flitch: 'log',
    slab: 'slab-1',
    face: 'top',
    toTop: [cos, -sin, sin, cos, 0, 0],
    finished,
    rough: finished,
    jointFront: null,
    jointBack: null,
  };
};

function stockOf(change: (face: ReturnType<typeof faceOf>) => void = () => undefined) {
  const job = structuredClone(wavyJob([{ length: 2000, width: 500, swing: 0 }], {}));
  change(faceOf(job));
  const [stock] = prepareStock(job, new Map());
  if (!stock) throw new Error('a slab with an outline is stock');
  return stock;
}
const faceOf = (job: ReturnType<typeof wavyJob>) => {
  const face = job.flitches.log?.slabs['slab-1']?.faces.top;
  if (!face) throw new Error('the job has that slab');
  return face;
};

describe('the room of a strip', () => {
  it('is what lies between its sides and the edges of the wood', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 300, noNaN: true }),
        fc.double({ min: 5, max: 300, noNaN: true }),
        fc.double({ min: 5, max: 200, noNaN: true }),
        fc.double({ min: 5, max: 200, noNaN: true }),
        fc.double({ min: 0.1, max: 4, noNaN: true }),
        (right, left, front, back, sigma) => {
          const stock = stockOf((face) => Object.assign(face, { outlineSigma: sigma }));
          const found = new Map(
            clearances(strip([right, front, 2000 - left, 500 - back]), stock).map((one) => [one.of, one]),
          );
          // A corner is as near to the one edge as to the other; the lesser of both is the room of the side that ends in it.
          const ends = (own: number) => Math.min(own, front, back);
          const sides = (own: number) => Math.min(own, right, left);
          expect(found.get('right')?.room).toBeCloseTo(ends(right), 6);
          expect(found.get('left')?.room).toBeCloseTo(ends(left), 6);
          expect(found.get('front')?.room).toBeCloseTo(sides(front), 6);
          expect(found.get('back')?.room).toBeCloseTo(sides(back), 6);
          for (const { slack, room } of found.values()) expect(slack).toBeCloseTo(room - 2 * sigma, 6);
        },
      ),
      { numRuns: 50 },
    );
  });

  it('shrinks at the corners of a strip that lies at an angle', () => {
    const level = clearances(strip([200, 100, 1800, 400]), stockOf());
    const turned = clearances(strip([200, 100, 1800, 400], 2), stockOf());
    const least = (all: typeof level): number => Math.min(...all.map(({ room }) => room));
    // Half its length, 800 mm, at 2 degrees: a corner lifts by 800 sin 2 less what the width loses by turning.
    const t = (2 * Math.PI) / 180;
    expect(least(turned)).toBeCloseTo(250 - 800 * Math.sin(t) - 150 * Math.cos(t), 6);
    expect(least(level)).toBeCloseTo(100, 6);
  });

  it('has no front where the front is the live edge, and its ends count from a little behind it', () => {
    const found = clearances(strip([200, 0, 1800, 300]), stockOf());
    expect(found.map(({ of }) => of).sort()).toEqual(['back', 'left', 'right']);
    // Three margins of 1 mm and one more.
    expect(found.find(({ of }) => of === 'left')?.room).toBeCloseTo(4, 6);
  });

  it('tells how near a defect lies that must be kept off, and nothing of one that may show', () => {
    const knot = (permit: 'avoid' | 'allow') =>
      stockOf((face) => {
        face.defects.k = { id: 'k', kind: 'knot', permit, polygon: [...rectangle<'face'>(900, 403, 930, 430)] };
      });
    const defect = (stock: ReturnType<typeof stockOf>) =>
      clearances(strip([200, 100, 1800, 400]), stock).find(({ of }) => of === 'defect');
    expect(defect(knot('avoid'))?.room).toBeCloseTo(3, 6);
    expect(defect(knot('allow'))).toBeUndefined();
  });

  it('is less sure where the photo was less sure', () => {
    const stock = stockOf((face) => {
      Object.assign(face, { outlineSigma: Math.hypot(0.6, 1) });
      const sigma = [
        { at: [0, 250] as [number, number], mm: 0.5 },
        { at: [1000, 250] as [number, number], mm: 1 },
        { at: [2000, 250] as [number, number], mm: 3 },
      ];
      Object.assign(face, { photos: { p: { calibration: { sigma } } } });
    });
    const found = clearances(strip([100, 100, 1900, 400]), stock);
    const of = (side: string) => found.find((one) => one.of === side)?.sigma;
    // The camera's part grows from 0.5 to 3 mm; how well the edge was followed, 0.6 mm, is alike.
    expect(of('right')).toBeCloseTo(Math.hypot(0.6, 0.5), 6);
    expect(of('left')).toBeCloseTo(Math.hypot(0.6, 3), 6);
  });
});
