import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../src/app/canvas/items';
import {
  along,
  countOf,
  holds,
  nearestPlace,
  pointsOf,
  replaced,
  runBetween,
  stretch,
} from '../../../src/app/stages/stock/hand/ring';
import { distance, distanceToRing, ringArea } from '../../../src/geometry';
import { slabRing } from './slab-ring';

const square: XY[] = [
  [0, 0],
  [100, 0],
  [100, 100],
  [0, 100],
];
const lengthOf = (line: readonly XY[]) =>
  line.slice(1).reduce((sum, p, i) => sum + distance<'face'>(line[i] as XY, p), 0);

describe('stretches of an outline', () => {
  it('make up the whole way around between any two places', () => {
    fc.assert(
      fc.property(slabRing, fc.nat(), fc.nat(), fc.nat(1e6), (ring, i, j, share) => {
        const whole = lengthOf([...ring, ring[0] as XY]);
        const a = along(ring, { edge: i % ring.length, at: ring[i % ring.length] as XY }, (share / 1e6) * whole);
        const b = { edge: j % ring.length, at: ring[j % ring.length] as XY };
        if (distance<'face'>(a.at, b.at) < 0.01) return;
        expect(lengthOf(stretch(ring, a, b)) + lengthOf(stretch(ring, b, a))).toBeCloseTo(whole, 3);
      }),
    );
  });

  it('go as far along as asked, and back again', () => {
    fc.assert(
      fc.property(slabRing, fc.nat(), fc.double({ min: 0, max: 900, noNaN: true }), (ring, i, by) => {
        const start = { edge: i % ring.length, at: ring[i % ring.length] as XY };
        const there = along(ring, start, by);
        expect(distanceToRing<'face'>(there.at, ring)).toBeLessThan(1e-6);
        expect(distance<'face'>(along(ring, there, -by).at, start.at)).toBeLessThan(1e-6);
      }),
    );
  });

  it('between two points take the shorter way, over the ring’s first point too', () => {
    const run = runBetween(square, 3, 0);
    expect(run).toEqual({ first: 3, last: 0 });
    expect(countOf(run, 4)).toBe(2);
    expect(pointsOf(square, run)).toEqual([square[3], square[0]]);
    expect([0, 1, 2, 3].map((i) => holds(run, 4, i))).toEqual([true, false, false, true]);
  });
});

describe('a line in the place of a stretch', () => {
  const from = nearestPlace(square, [20, -1]);
  const to = nearestPlace(square, [80, 1]);
  const bulge: XY[] = [from.at, [50, -30], to.at];

  it('adds or takes just the area between the two, whichever way it was drawn', () => {
    // A triangle on a base of 60, 30 high: 900.
    expect(ringArea(replaced(square, from, bulge, to))).toBeCloseTo(10_900, 6);
    expect(ringArea(replaced(square, to, bulge.toReversed(), from))).toBeCloseTo(10_900, 6);
    const dent: XY[] = [from.at, [50, 30], to.at];
    expect(ringArea(replaced(square, from, dent, to))).toBeCloseTo(9_100, 6);
  });

  it('leaves the rest of the outline as it was, beginning at the same point', () => {
    const next = replaced(square, to, bulge.toReversed(), from);
    expect(next[0]).toEqual(square[0]);
    for (const p of square) expect(next).toContainEqual(p);
    expect(next).toContainEqual([50, -30]);
  });

  it('that crosses the outline leaves one ring that does not cross itself', () => {
    const wild: XY[] = [from.at, [40, 130], [60, 130], to.at];
    const next = replaced(square, from, wild, to);
    fc.assert(
      fc.property(fc.nat(next.length - 1), fc.nat(next.length - 1), (i, j) => {
        const [a, b] = [next[i] as XY, next[(i + 1) % next.length] as XY];
        const [c, d] = [next[j] as XY, next[(j + 1) % next.length] as XY];
        const side = (p: XY, q: XY, r: XY) => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
        const crosses = side(a, b, c) * side(a, b, d) < -1e-3 && side(c, d, a) * side(c, d, b) < -1e-3;
        expect(crosses).toBe(false);
      }),
    );
  });

  it('traced along the outline itself changes nothing', () => {
    fc.assert(
      fc.property(slabRing, fc.nat(), fc.nat(), (ring, i, j) => {
        const a = { edge: i % ring.length, at: ring[i % ring.length] as XY };
        const b = { edge: j % ring.length, at: ring[j % ring.length] as XY };
        if (a.edge === b.edge) return;
        expect(ringArea(replaced(ring, a, stretch(ring, a, b), b))).toBeCloseTo(ringArea(ring), 3);
      }),
    );
  });
});
