import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point, Polygon } from '../../src/geometry';
import { type Job, SWING_WITHIN, type Top } from '../../src/job';
import { groundOf } from '../../src/layout/ground';
import { edgeOver, swingOf, swingsOver } from '../../src/layout/live-edge';
import { onePieces, shapedPlaces } from '../../src/layout/own-places';
import { SeamRoom } from '../../src/layout/seam-room';
import { stripInTop } from '../../src/layout/strips';
import { wavyJob } from '../support/wavy-slabs';

/** A drawn slab: half of it small waves that come close together, half of it one long wave, which lies calmer within any half metre. Invented. */
const LENGTH = 4500;
const edge = (x: number): number =>
  x < LENGTH / 2 ? 6 * Math.sin((2 * Math.PI * x) / 250) : 7.5 * Math.sin((2 * Math.PI * (x - LENGTH / 2)) / 2000);
const xs = Array.from({ length: 451 }, (_, i) => 10 * i);
const drawn: Polygon<'face'> = [
  ...xs.map((x): Point<'face'> => [x, edge(x)]),
  ...xs.map((x): Point<'face'> => [LENGTH - x, 500 + edge(LENGTH - x)]),
];
const ALLOWED = 11.3;

function jobOf(slabs: number, wanted: Partial<Top>): Job {
  const shape = { length: LENGTH, width: 500, swing: 0 };
  const job = wavyJob(
    Array.from({ length: slabs }, () => shape),
    { length: 2000, swing: ALLOWED, ...wanted },
  );
  for (const slab of Object.values(job.flitches.log?.slabs ?? {})) slab.faces.top.outline = { outer: drawn, holes: [] };
  return job;
}
const counter = (job: Job): Top => job.tops.counter as Top;

describe('how far a live edge may swing', () => {
  it('leads the search to the calm stretch of a slab, though the edge elsewhere swings less in all', () => {
    const job = jobOf(1, { depth: [300, 420], seams: 0 });
    const { fit, unfit } = onePieces(counter(job), 1, groundOf(job, new Map()), [], 3);
    expect(fit.length).toBeGreaterThan(0);
    for (const { placement } of fit) {
      const [strip] = placement.strips;
      if (!strip) throw new Error('no strip');
      expect(swingOf(edgeOver(stripInTop(strip), -1), SWING_WITHIN)).toBeLessThanOrEqual(ALLOWED);
    }
    expect(unfit.length).toBeLessThan(fit.length);
  });

  it('leads it so for the front of two strips, too', () => {
    const job = jobOf(2, { depth: [600, 720], seams: 1 });
    const ground = groundOf(job, new Map());
    const [a, b] = ground.stock;
    if (!a || !b) throw new Error('no stock');
    const { fit } = shapedPlaces(counter(job), ground, [[a, b]], 1);
    const [front] = fit[0]?.placement.strips ?? [];
    if (!front) throw new Error('no place');
    expect(swingOf(edgeOver(stripInTop(front), -1), SWING_WITHIN)).toBeLessThanOrEqual(ALLOWED);
  });

  it('is told from the calmest edge where none is calm enough', () => {
    const job = jobOf(1, { depth: [300, 420], seams: 0, swing: 4 });
    const { fit, unfit } = onePieces(counter(job), 1, groundOf(job, new Map()), [], 3);
    expect(fit).toEqual([]);
    expect(unfit[0]?.why).toBe('swing');
  });

  it('never keeps a seam from the wood that would hold it: columns see no more swing than there is', () => {
    const heights = fc.array(fc.double({ min: -20, max: 20, noNaN: true }), { minLength: 30, maxLength: 60 });
    fc.assert(
      fc.property(heights, fc.double({ min: 1, max: 40, noNaN: true }), (ys, swing) => {
        const length = 40 * (ys.length - 1);
        const outer: Polygon<'face'> = [...ys.map((y, i): Point<'face'> => [40 * i, y]), [length, 400], [0, 400]];
        const wood = { outline: { outer, holes: [] }, inside: [{ outer, holes: [] }], forbidden: [] };
        const wish = { length: length - 60, depth: [50, 900], front: 'live', leastStrip: 50, keepOff: 'line' } as const;
        // The front keeps less y of a line that runs with x.
        const place = { x: length / 2, y: 200, degrees: 0, way: 1 } as const;
        const free = new SeamRoom(wood, wish).depths(place, false, true);
        const held = new SeamRoom(wood, { ...wish, swing }).depths(place, false, true);
        const top = ys.map((y, i): Point<'top'> => [40 * i, y]);
        const within = top.flatMap(([x, y], i): Point<'top'>[] => {
          const [px, py] = top[i - 1] ?? [x, y];
          const cut = [30, length - 30].filter((c) => px < c && c < x);
          const between = cut.map((c): Point<'top'> => [c, py + ((c - px) / (x - px)) * (y - py)]);
          return x > 30 && x < length - 30 ? [...between, [x, y]] : between;
        });
        const real = swingOf(within, SWING_WITHIN);
        if (real <= swing) expect(held).toEqual(free);
        // Half a column beside a corner the edge is a 16th of its piece off.
        if (real > swing + 5.1) expect(held).toBeNull();
      }),
      { numRuns: 200 },
    );
  });

  it('is seen within any stretch of so many steps, as by brute force', () => {
    const heights = fc.array(fc.integer({ min: 0, max: 30 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(heights, fc.integer({ min: 1, max: 12 }), fc.integer({ min: 0, max: 30 }), (ys, reach, limit) => {
        const spans = ys.map((_, i) => {
          const part = ys.slice(i, i + reach + 1);
          return Math.max(...part) - Math.min(...part);
        });
        expect(swingsOver(ys, reach, limit)).toBe(Math.max(...spans) > limit);
      }),
    );
  });
});
