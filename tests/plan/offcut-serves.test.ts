import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Door, defaultDoor, defaultTop, emptyJob, type Job } from '../../src/job';
import { leafCount } from '../../src/leaves';
import { planReport, servesFor, servicesWords, sparePieces } from '../../src/plan';
import { laidPlans } from '../support/laid-plans';

/** What a piece left over would do for another job: by sizes that a maker would compare with a rule. */

const piece = (length: number, width: number, finished: number | null = 40) => ({
  name: 'O1 of Slab 2',
  species: 'walnut_black',
  size: [length, width] as const,
  thickness: finished === null ? null : { flat: finished + 5, finished },
});

const drawers: Door = {
  ...defaultDoor('drawers'),
  name: 'Drawers',
  width: 400,
  height: 180,
  count: 4,
  match: 'slip',
};

function job(change: Partial<Job> = {}): Job {
  return { ...emptyJob('other', 'Other', '2026-11-25'), ...change };
}
const shelf = {
  ...defaultTop('shelf'),
  name: 'Shelf',
  length: 900,
  depth: [200, 220] as [number, number],
  thickness: 30,
};

describe('what an offcut would do for another job', () => {
  it('a straight top, exactly when it is long, wide and thick enough', () => {
    const other = job({ tops: { shelf: { ...shelf, front: 'straight', seams: 0 } } });
    fc.assert(
      fc.property(
        fc.integer({ min: 880, max: 920 }),
        fc.integer({ min: 190, max: 210 }),
        fc.integer({ min: 28, max: 32 }),
        (length, width, thickness) => {
          const served = servesFor([piece(length, width, thickness)], other).some(({ as }) => as === 'top');
          expect(served).toBe(length >= 900 && width >= 200 && thickness >= 30);
        },
      ),
    );
  });

  it('no live edge: that is the slab’s own; but a strip behind its seam', () => {
    const live = (seams: number) => job({ tops: { shelf: { ...shelf, front: 'live', seams } } });
    const as = (other: Job) => servesFor([piece(1000, 300)], other).flatMap((one) => (one.as === 'keys' ? [] : one.as));
    expect(as(live(0))).toEqual([]);
    expect(as(live(1))).toEqual(['strip']);
  });

  it('as many panel faces as its leaves give, and no more than are wanted', () => {
    const whole = job({ doors: { drawers } });
    // A saw as high as any board, and a blade that runs straight.
    const { height: _, drift: _drift, ...resaw } = whole.shop.resaw;
    const other = { ...whole, shop: { ...whole.shop, resaw } };
    fc.assert(
      fc.property(fc.integer({ min: 190, max: 900 }), fc.integer({ min: 60, max: 500 }), (length, width) => {
        const { leaf, kerf, dressing, faceAllowance, lastPiece } = other.shop.resaw;
        const board = { length, width, thickness: 25 };
        const { leaves } = leafCount({ board, leaf, kerf, dressing, faceAllowance, lastPiece });
        const saw = other.shop.kerf.fine;
        const found = servesFor([piece(length, width, 20)], other).find(({ as }) => as === 'panels');
        // Door-high pieces of 200 mm along it, a kerf apart, panels of 420 mm from leaves that follow each other.
        const given = Math.floor(leaves / Math.ceil(420 / width)) * Math.floor((length + saw) / (200 + saw));
        expect(found?.count ?? 0).toBe(Math.min(given, 8));
      }),
    );
  });

  it('keys with their grain along them, none from another wood than the shop’s keys are of', () => {
    const other = job();
    const [small] = other.shop.keySizes;
    const keys = servesFor([piece(300, 60)], other).find(({ as, name }) => as === 'keys' && name === small?.id);
    // 50 x 27.9 mm with 2.4 mm of kerf: five along 300 mm, two across 60 mm.
    expect(keys?.count).toBe(10);
    const maple = job({ shop: { ...other.shop, keySpecies: 'maple_sugar' } });
    expect(servesFor([piece(300, 60)], maple)).toEqual([]);
  });

  it('says where no thickness was read', () => {
    const other = job({ tops: { shelf: { ...shelf, front: 'straight' } } });
    const found = servesFor([piece(1000, 300, null)], other).filter(({ as }) => as !== 'keys');
    expect(found.map(({ unsure }) => unsure)).toEqual([true]);
    expect(servicesWords(found)).toBe('if it is thick enough: the whole top Shelf');
  });

  it('lists every clear piece of a plan once, the largest first', () => {
    fc.assert(
      fc.property(laidPlans, (laid) => {
        const report = planReport(laid.job, laid.plan);
        const pieces = sparePieces(laid.job, report);
        expect(pieces.length).toBe(report.slabs.flatMap(({ offcuts }) => offcuts.flatMap((one) => one.pieces)).length);
        expect(new Set(pieces.map(({ name }) => name)).size).toBe(pieces.length);
        const areas = pieces.map(({ size: [length, width] }) => length * width);
        expect(areas).toEqual([...areas].sort((a, b) => b - a));
      }),
      { numRuns: 10 },
    );
  });
});
