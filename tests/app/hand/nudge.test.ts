import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { XY } from '../../../src/app/canvas/items';
import { nudged, readied } from '../../../src/app/stages/stock/hand/nudge';
import { holds, pointsOf, runBetween } from '../../../src/app/stages/stock/hand/ring';
import { distance, distanceToRing, ringArea } from '../../../src/geometry';
import { slabRing } from './slab-ring';

const way = fc.tuple(fc.double({ min: -30, max: 30, noNaN: true }), fc.double({ min: -30, max: 30, noNaN: true }));
const reach = fc.constantFrom(0, 20, 60, 150);

describe('a nudge of the outline', () => {
  it('readies the ring without changing its shape', () => {
    fc.assert(
      fc.property(slabRing, fc.nat(), fc.nat(), reach, (ring, i, j, far) => {
        const run = runBetween(ring, i % ring.length, j % ring.length);
        const ready = readied(ring, run, far);
        expect(ringArea(ready.ring)).toBeCloseTo(ringArea(ring), 3);
        for (const p of ready.ring) expect(distanceToRing<'face'>(p, ring)).toBeLessThan(1e-6);
        expect(ready.ring[ready.run.first]).toEqual(ring[run.first]);
        expect(ready.ring[ready.run.last]).toEqual(ring[run.last]);
      }),
    );
  });

  it('moves the chosen points by just so much, no point further, and none beyond its reach', () => {
    fc.assert(
      fc.property(slabRing, fc.nat(), fc.nat(), reach, way, (ring, i, j, far, by) => {
        const run = runBetween(ring, i % ring.length, j % ring.length);
        const ready = readied(ring, run, far);
        const next = nudged(ready.ring, ready.run, by, far);
        const chosen = pointsOf(ready.ring, ready.run);
        next.forEach((p, k) => {
          const before = ready.ring[k] as XY;
          const moved = distance<'face'>(p, before);
          const full = Math.hypot(...by);
          if (holds(ready.run, next.length, k)) expect(moved).toBeCloseTo(full, 6);
          else expect(moved).toBeLessThanOrEqual(full + 1e-9);
          // As the crow flies is never further than along the edge.
          if (Math.min(...chosen.map((q) => distance<'face'>(before, q))) >= far && !holds(ready.run, next.length, k))
            expect(moved).toBe(0);
        });
      }),
    );
  });

  it('fades out: the further along the edge, the less', () => {
    const straight: XY[] = [...Array.from({ length: 21 }, (_, i): XY => [i * 10, 0]), [200, 300], [0, 300]];
    const { ring, run } = readied(straight, { first: 10, last: 10 }, 60);
    const next = nudged(ring, run, [0, 5], 60);
    const rise = next.filter((_, k) => (ring[k] as XY)[1] === 0 && (ring[k] as XY)[0] >= 100).map(([, y]) => y);
    expect(rise[0]).toBe(5);
    expect(rise).toEqual(rise.toSorted((a, b) => b - a));
    expect(rise.filter((y) => y > 0 && y < 5).length).toBeGreaterThan(4);
    expect(rise.at(-1)).toBe(0);
  });

  it('bends a long straight in a curve, not in corners', () => {
    const board: XY[] = [
      [0, 0],
      [1000, 0],
      [2000, 0],
      [2000, 500],
      [0, 500],
    ];
    const { ring, run } = readied(board, { first: 1, last: 1 }, 150);
    const next = nudged(ring, run, [0, 20], 150);
    const turns = next.slice(1, -3).map((p, i) => {
      const [a, c] = [next[i] as XY, next[i + 2] as XY];
      const turn = Math.atan2(c[1] - p[1], c[0] - p[0]) - Math.atan2(p[1] - a[1], p[0] - a[0]);
      return Math.abs((turn * 180) / Math.PI);
    });
    // With no points put in, the middle alone would turn by 2 atan(20 / 1000) at once; softly 20 mm in 150 turn by a few degrees each.
    expect(Math.max(...turns)).toBeLessThan(12);
    expect(turns.filter((t) => t > 0.5).length).toBeGreaterThan(8);
  });
});
