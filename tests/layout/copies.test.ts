import fc from 'fast-check';
import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { defaultTop, emptyJob, wantedTop, wantedTops } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

describe('a top wanted several times', () => {
  it('stands for as many tops, each under an id that nothing else has', () => {
    const name = fc.constantFrom('a', 'a-2', 'a-3', 'a-2x', 'b');
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.tuple(name, fc.integer({ min: 1, max: 4 })), { selector: ([id]) => id, minLength: 1 }),
        (wishes) => {
          const tops = Object.fromEntries(wishes.map(([id, count]) => [id, { ...defaultTop(id), count }]));
          const job = { ...emptyJob('t', 'T', '2026-11-25'), tops };
          const all = wantedTops(job);
          expect(all).toHaveLength(wishes.reduce((sum, [, count]) => sum + count, 0));
          expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
          // The first copy keeps the id, so that a plan made when one was wanted still holds.
          for (const [id] of wishes) expect(wantedTop(job, id)?.id).toBe(id);
        },
      ),
    );
  });

  it('is cut as often as it is wanted, side by side where one slab gives room', async () => {
    // 2,500 mm give two of 1,000 with 25 mm over at each end and the kerf; 640 mm give two of 250-270 in depth.
    const job = wavyJob([{ length: 2500, width: 640, swing: 3, thickness: 54 }], {
      name: 'Shelf',
      count: 4,
      length: 1000,
      depth: [250, 270],
      front: 'straight',
      seams: 0,
    });
    const [plan] = await proposePlans(job, new Map(), highs, unwatched());
    if (!plan) throw new Error('There is always a plan.');
    expect(plan.misses).toEqual([]);
    expect(Object.keys(plan.placements).sort()).toEqual(['counter', 'counter-2', 'counter-3', 'counter-4']);
    expect(checkPlan(job, plan).faults).toEqual([]);
  }, 30_000);

  it('says of which copy no wood is left', async () => {
    const job = wavyJob([{ length: 2500, width: 400, swing: 3, thickness: 54 }], {
      name: 'Shelf',
      count: 3,
      length: 1000,
      depth: [250, 270],
      front: 'straight',
      seams: 0,
    });
    const [plan] = await proposePlans(job, new Map(), highs, unwatched());
    expect(Object.keys(plan?.placements ?? {})).toHaveLength(2);
    expect(plan?.misses).toHaveLength(1);
    expect(plan?.misses[0]?.message).toContain('of 3');
  }, 30_000);
});
