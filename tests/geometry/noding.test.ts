import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noded } from '../../src/geometry/noding';
import { runs } from '../support/runs';

/** Rings of whole numbers that nearly touch one another, the hard case of every clipping library. */

type Ring = { readonly x: number; readonly y: number }[];

/** Boxes that are turned alike and stand within a few units of one line: what cuts and pieces a kerf apart look like. */
const boxes = fc
  .record({
    tenths: fc.integer({ min: -30, max: 30 }),
    all: fc.array(
      fc.record({
        x: fc.integer({ min: 0, max: 40_000 }),
        y: fc.integer({ min: -3, max: 3 }),
        long: fc.integer({ min: 500, max: 60_000 }),
        wide: fc.constantFrom(1, 2, 3, 900, 20_000),
      }),
      { minLength: 2, maxLength: 7 },
    ),
  })
  .map(({ tenths, all }): Ring[] => {
    const [cos, sin] = [Math.cos((tenths * Math.PI) / 1800), Math.sin((tenths * Math.PI) / 1800)];
    const turn = (x: number, y: number) => ({ x: Math.round(x * cos - y * sin), y: Math.round(x * sin + y * cos) });
    return all.map(({ x, y, long, wide }) => [
      turn(x, y),
      turn(x + long, y),
      turn(x + long, y + wide),
      turn(x, y + wide),
    ]);
  });

const area = (ring: Ring): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length] as Ring[number];
    return sum + (p.x * q.y - q.x * p.y) / 2;
  }, 0);

const round = (ring: Ring): number =>
  ring.reduce((sum, p, i) => {
    const q = ring[(i + 1) % ring.length] as Ring[number];
    return sum + Math.hypot(q.x - p.x, q.y - p.y);
  }, 0);

describe('noded rings', () => {
  it('meet only at corners: no two edges cross, and no corner stands beside an edge that is not its own', () => {
    fc.assert(
      fc.property(boxes, (rings) => {
        const edges = noded(rings).flatMap((ring) =>
          ring.map((a, i) => [a, ring[(i + 1) % ring.length] as typeof a] as const),
        );
        for (const [a, b] of edges)
          for (const p of edges.map(([end]) => end)) {
            const [dx, dy, px, py] = [b.x - a.x, b.y - a.y, p.x - a.x, p.y - a.y];
            const along = (px * dx + py * dy) / (dx * dx + dy * dy);
            if (along <= 0 || along >= 1) continue;
            expect(Math.abs(px * dy - py * dx) / Math.hypot(dx, dy)).toBeGreaterThan(1);
          }
        for (const [i, [a, b]] of edges.entries())
          for (const [c, d] of edges.slice(i + 1)) {
            const side = (p: typeof a, q: typeof a, r: typeof a) =>
              Math.sign((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x));
            const cross = side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
            expect(cross).toBe(false);
          }
      }),
      { numRuns: runs(200) },
    );
  });

  it('are the rings still: each area is the same but for a few units along its edge', () => {
    fc.assert(
      fc.property(boxes, (rings) => {
        noded(rings).forEach((ring, i) => {
          const was = rings[i] as Ring;
          expect(Math.abs(area(ring) - area(was))).toBeLessThan(4 * round(was) + 20);
        });
      }),
      { numRuns: 200 },
    );
  });
});
