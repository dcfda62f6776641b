import fc from 'fast-check';
import { expect, it } from 'vitest';
import { crossingsAtX } from '../../src/geometry';
import { topOutline } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { placesOf, planWith } from '../support/places';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

it.runIf(process.env.SLOW)(
  'a top of two slabs keeps a live edge of each, is as deep as wanted at every millimetre, and its joint is straight and sound',
  () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 14 }),
        fc.integer({ min: 0, max: 14 }),
        fc.integer({ min: 700, max: 840 }),
        (swingA, swingB, least) => {
          const job = wavyJob(
            [
              { length: 2500, width: 470, swing: swingA, thickness: 54 },
              { length: 2400, width: 450, swing: swingB, thickness: 54 },
            ],
            {
              length: 1900,
              depth: [least, least + 60],
              front: 'live',
              back: 'live',
              seams: 1,
              leastStrip: 150,
              thickness: 38,
            },
          );
          const { fit } = placesOf(job);
          expect(fit.length).toBeGreaterThan(0);
          for (const { placement } of fit) {
            expect(new Set(placement.strips.map(({ slab }) => slab)).size).toBe(2);
            expect(checkPlan(job, planWith(placement)).faults).toEqual([]);
            const outline = topOutline(placement);
            for (let x = 1; x < 1900; x += 1) {
              const ys = crossingsAtX(outline, x);
              const deep = (ys.at(-1) ?? 0) - (ys[0] ?? 0);
              expect(deep).toBeGreaterThanOrEqual(least - 0.05);
              expect(deep).toBeLessThanOrEqual(least + 60.05);
            }
          }
        },
      ),
      { numRuns: runs(5) },
    );
  },
);
