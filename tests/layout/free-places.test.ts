import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bounds, type Point, ringArea } from '../../src/geometry';
import type { Job, Placement, Top } from '../../src/job';
import { topOutline } from '../../src/layout';
import { freePlaces } from '../../src/layout/free-places';
import { prepareStock } from '../../src/layout/stock';
import { checkPlan } from '../../src/plan';
import { onlyTop, planWith } from '../support/places';
import { runs } from '../support/runs';
import { type WavySlab, wavyJob } from '../support/wavy-slabs';

const SLAB: WavySlab = { length: 2600, width: 700, swing: 12, thickness: 54 };

const jobWith = (top: Partial<Top>, slab: WavySlab = SLAB): Job =>
  wavyJob([slab], { length: 2000, depth: [600, 660], thickness: 38, seams: 0, ...top });

const placesOf = (job: Job): Placement[] =>
  prepareStock(job, new Map()).flatMap((face) =>
    freePlaces(face, onlyTop(job), job.shop, 8).map(({ placement }) => placement),
  );
const faultsOf = (job: Job, placement: Placement) => checkPlan(job, planWith(placement)).faults;
const LIVE = { edge: 'live' as const, degrees: 90, short: 30 };
const SQUARE = { edge: 'straight' as const, degrees: 90, short: 40 };

/** Every place of the top passes the checker, and there is one. */
function soundPlaces(job: Job): Placement[] {
  const places = placesOf(job);
  expect(places.length).toBeGreaterThan(0);
  for (const placement of places) expect(faultsOf(job, placement)).toEqual([]);
  return places;
}

describe('a live back', () => {
  it('alone: the front is straight, the back the wood itself within the band of depth', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 25 }), fc.integer({ min: 500, max: 600 }), (swing, least) => {
        const job = jobWith({ front: 'straight', back: 'live', depth: [least, least + 60] }, { ...SLAB, swing });
        for (const placement of soundPlaces(job)) {
          const { minY } = bounds(topOutline(placement));
          expect(minY).toBeCloseTo(0, 2);
          expect(placement.depth[0]).toBeGreaterThanOrEqual(least - 0.02);
        }
      }),
      { numRuns: runs(6) },
    );
  });

  it('with a live front: from edge to edge of the slab, whose width is the depth', () => {
    const job = jobWith({ front: 'live', back: 'live', depth: [680, 720] });
    for (const placement of soundPlaces(job)) {
      // Both edges of the slab swing alike, so it is as wide everywhere, but for the angle that it is laid at.
      expect(placement.depth[0]).toBeGreaterThan(690);
      expect(placement.depth[1]).toBeLessThan(710);
    }
    expect(placesOf(jobWith({ front: 'live', back: 'live', depth: [600, 660] }))).toEqual([]);
  });
});

describe('a live end', () => {
  it("is the slab's own, reaches the length, and falls short by no more than it may", () => {
    const ends = { right: LIVE, left: SQUARE };
    for (const front of ['live', 'straight'] as const) {
      const job = jobWith({ front, depth: [560, 640], ends });
      for (const placement of soundPlaces(job)) {
        const { minX, maxX } = bounds(topOutline(placement));
        expect(minX).toBeCloseTo(0, 1);
        expect(maxX).toBeCloseTo(2000, 1);
      }
    }
    // Both ends live: as long as the slab.
    soundPlaces(jobWith({ front: 'live', depth: [560, 640], length: 2600, ends: { right: LIVE, left: LIVE } }));
    expect(placesOf(jobWith({ front: 'live', length: 2400, ends: { right: LIVE, left: LIVE } }))).toEqual([]);
  });
});

describe('grain', () => {
  it.runIf(process.env.SLOW)(
    'runs as it is wanted against the length, within what is allowed; farther off is a fault',
    () => {
      fc.assert(
        fc.property(fc.integer({ min: -90, max: 90 }), fc.integer({ min: 0, max: 10 }), (degrees, tolerance) => {
          const job = jobWith({ front: 'straight', length: 420, depth: [300, 320], grain: { degrees, tolerance } });
          for (const { strips, ...rest } of soundPlaces(job)) {
            const [strip] = strips;
            if (!strip) throw new Error('One piece.');
            // Where the slab's x, along its grain, points in the top.
            const along = (Math.atan2(strip.toTop[1], strip.toTop[0]) * 180) / Math.PI;
            const off = Math.abs(((((along - degrees) % 180) + 270) % 180) - 90);
            expect(off).toBeLessThanOrEqual(tolerance + 1e-6);
            const strict = {
              ...onlyTop(job),
              grain: { degrees: degrees > 0 ? degrees - 30 : degrees + 30, tolerance },
            };
            const faults = faultsOf({ ...job, tops: { counter: strict } }, { strips, ...rest });
            expect(faults.map(({ rule }) => rule)).toContain('grain');
          }
        }),
        { numRuns: runs(8) },
      );
    },
  );
});

describe('a shape in one piece', () => {
  it('needs no more wood than itself: a round top fits a slab no wider than its diameter and the margins', () => {
    fc.assert(
      fc.property(fc.integer({ min: 300, max: 680 }), (diameter) => {
        const slab = { length: 1500, width: diameter + 8, swing: 0, thickness: 54 };
        const job = jobWith({ shape: { kind: 'round' }, length: diameter }, slab);
        for (const placement of soundPlaces(job))
          expect(ringArea(topOutline(placement))).toBeCloseTo((Math.PI * diameter ** 2) / 4, -2);
      }),
      { numRuns: runs(6) },
    );
  });

  it('a drawn one is laid where only it fits: beside a hole that its box would hold', () => {
    const outline: Point<'top'>[] = [
      [0, 0],
      [1600, 0],
      [1600, 250],
      [700, 250],
      [700, 560],
      [0, 560],
    ];
    const job = jobWith({ shape: { kind: 'polygon', outline } }, { ...SLAB, length: 1700, width: 600, swing: 0 });
    const face = job.flitches.log?.slabs['slab-1']?.faces.top;
    if (!face) throw new Error('It has one slab.');
    const hole = [
      [300, 100],
      [400, 100],
      [400, 200],
      [300, 200],
    ] as [number, number][];
    face.defects = { d: { id: 'd', kind: 'void', permit: 'avoid', polygon: hole } };
    soundPlaces(job);
  });
});
