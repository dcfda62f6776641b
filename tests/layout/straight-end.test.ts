import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distanceToSegment, type Point, regionsArea, union } from '../../src/geometry';
import { cutsOf, leftOver } from '../../src/layout';
import { straightEnd } from '../../src/layout/straight-end';
import { placesOf } from '../support/places';
import { wavyJob } from '../support/wavy-slabs';

describe('the straight edge that ends a piece', () => {
  it('is the side that was cut at an angle, drawn out, and leads out of the piece', () => {
    fc.assert(
      fc.property(fc.integer({ min: -300, max: 300 }), fc.integer({ min: -300, max: 300 }), (left, right) => {
        const corners: Point<'top'>[] = [
          [Math.max(0, left), 0],
          [2000 - Math.max(0, right), 0],
          [2000 - Math.max(0, -right), 600],
          [Math.max(0, -left), 600],
        ];
        for (const [side, a, b] of [
          [-1, corners[0], corners[3]],
          [1, corners[1], corners[2]],
        ] as const) {
          const end = straightEnd(corners, side, [-20, 620]);
          if (!end || !a || !b) throw new Error('A straight end is found.');
          expect(distanceToSegment(a, end.line)).toBeLessThan(1e-6);
          expect(distanceToSegment(b, end.line)).toBeLessThan(1e-6);
          expect(Math.sign(end.away[0])).toBe(side);
          expect(Math.hypot(...end.away)).toBeCloseTo(1, 9);
        }
      }),
    );
  });

  it('is none of a round piece', () => {
    const round = Array.from(
      { length: 90 },
      (_, i): Point<'top'> => [400 * Math.cos((i * Math.PI) / 45), 400 * Math.sin((i * Math.PI) / 45)],
    );
    expect(straightEnd(round, 1, [-400, 400])).toBeNull();
  });
});

it('a top with mitred ends is trimmed along them, its kerfs take none of it, and the areas add up', () => {
  const end = (degrees: number) => ({ edge: 'straight' as const, degrees, short: 40 });
  const job = wavyJob([{ length: 2600, width: 760, swing: 8, thickness: 54 }], {
    length: 2000,
    depth: [600, 660],
    front: 'straight',
    seams: 0,
    ends: { right: end(135), left: end(60) },
  });
  const [place] = placesOf(job).fit;
  const face = job.flitches.log?.slabs['slab-1']?.faces.top;
  if (!place || !face?.outline) throw new Error('The slab gives it.');
  const { strips } = place.placement;
  const cuts = cutsOf(face.outline, strips, job.shop);
  const solid = (outer: (typeof strips)[0]['finished']) => [{ outer, holes: [] }];
  const finished = strips.flatMap((strip) => solid(strip.finished));
  const dust = union(cuts.flatMap((cut) => solid(cut.dust)));
  expect(regionsArea(union([...finished, ...dust]))).toBeCloseTo(regionsArea(finished) + regionsArea(dust), -1);
  const { areas } = leftOver(face.outline, strips, cuts, []);
  expect(areas.parts + areas.kerf + areas.offcuts + areas.waste).toBeCloseTo(areas.stock, 2);
});
