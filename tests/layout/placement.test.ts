import fc from 'fast-check';
import { expect, it } from 'vitest';
import { rectangle } from '../../src/geometry';
import { seamed } from '../../src/layout/placement';
import { prepareStock } from '../../src/layout/stock';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

/** A counter of 400 to 440 on a front strip of 250 to its live edge, and less than 170 of sound wood behind. Invented. */

const LENGTH = 1500;
const [LEAST, MOST] = [400, 440];

it('a strip behind that cannot be as deep as the middle of the band is as near to it as a scan of all depths finds', () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 8 }), fc.integer({ min: 154, max: 172 }), (swing, sound) => {
      const job = wavyJob(
        [
          { length: 1700, width: 500, swing },
          { length: 1700, width: 500, swing: 0 },
        ],
        { length: LENGTH, depth: [LEAST, MOST], front: 'live', seams: 1, leastStrip: 100 },
      );
      const behind = job.flitches.log?.slabs['slab-2'];
      if (!behind || !job.tops.counter) throw new Error('There are two slabs.');
      behind.faces.top.defects.void = {
        id: 'void',
        kind: 'void',
        polygon: [...rectangle<'face'>(0, 100 + sound, 1700, 100 + sound + 40)],
        permit: 'avoid',
      };
      const [front, back] = prepareStock(job, new Map());
      if (!front || !back) throw new Error('There are two slabs.');
      const seam = {
        front: {
          stock: front,
          line: [
            [100, 250],
            [100 + LENGTH, 250],
          ] as const,
        },
        back: {
          stock: back,
          line: [
            [100, 100],
            [100 + LENGTH, 100],
          ] as const,
        },
        ...{ blend: null, lines: null, slide: 0, flipped: false },
      };
      const top = job.tops.counter;
      const made = seamed(seam, top, job.shop);
      const [low, high] = [LEAST - (250 - swing), MOST - (250 + swing)];
      const middle = (low + high) / 2;
      const depths = Array.from({ length: Math.floor(4 * (middle - low)) + 1 }, (_, i) => middle - i / 4);
      const best = depths.find((depth) => typeof seamed(seam, top, job.shop, depth) !== 'string');
      if (best === undefined) return;
      if (typeof made === 'string') throw new Error(made);
      const got = made.placement.depth[1] - (250 + swing);
      expect(got).toBeGreaterThan(best - (middle - low) / 8 - 0.5);
      expect(got).toBeLessThan(best + 0.3);
    }),
    { numRuns: 6 },
  );
});

it('a joint goes between two voids that leave both strips together just deep enough', () => {
  fc.assert(
    fc.property(fc.integer({ min: 130, max: 240 }), fc.integer({ min: 0, max: 1200 }), (clear, at) => {
      const job = wavyJob(
        [
          { length: 1700, width: 500, swing: 0 },
          { length: 1700, width: 500, swing: 0 },
        ],
        { length: LENGTH, depth: [LEAST, MOST], front: 'straight', seams: 1, leastStrip: 100 },
      );
      const before = job.flitches.log?.slabs['slab-1'];
      const behind = job.flitches.log?.slabs['slab-2'];
      if (!before || !behind || !job.tops.counter) throw new Error('There are two slabs.');
      before.faces.top.defects.void = {
        id: 'void',
        kind: 'void',
        polygon: [...rectangle<'face'>(100 + at, 400 - clear - 40, 160 + at, 400 - clear)],
        permit: 'avoid',
      };
      const rest = LEAST - clear + 10;
      behind.faces.top.defects.void = {
        id: 'void',
        kind: 'void',
        polygon: [...rectangle<'face'>(1300 - at, 100 + rest, 1360 - at, 140 + rest)],
        permit: 'avoid',
      };
      const [front, back] = prepareStock(job, new Map());
      if (!front || !back) throw new Error('There are two slabs.');
      const line = (y: number) => [[100, y] as const, [100 + LENGTH, y] as const] as const;
      const seam = { blend: null, lines: null, slide: 0, flipped: false };
      const made = seamed(
        { ...seam, front: { stock: front, line: line(400) }, back: { stock: back, line: line(100) } },
        job.tops.counter,
        job.shop,
      );
      if (typeof made === 'string') throw new Error(made);
      const [first] = made.placement.strips;
      const ys = first?.finished.map(([, y]) => y) ?? [];
      expect(Math.max(...ys) - Math.min(...ys)).toBeLessThanOrEqual(clear - front.margin + 0.05);
      expect(made.placement.depth[0]).toBeGreaterThanOrEqual(LEAST - 0.01);
    }),
    { numRuns: runs(20) },
  );
});
