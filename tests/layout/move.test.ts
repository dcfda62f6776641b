import loadHighs from 'highs';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Job, Placement } from '../../src/job';
import { type JointMove, jointBench, proposePlans, type Refusal } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

/** The joint of a seamed top moved by hand. */
const STILL = { side: 0, by: 0, turn: 0, slide: 0 } as const;
const BARE = { id: 'p', name: 'Plan', misses: [], waste: 0, cost: null, gap: 0 };
let job: Job;
let placements: Placement[];

beforeAll(async () => {
  const shapes = [
    { length: 2600, width: 480, swing: 12 },
    { length: 2500, width: 460, swing: 9 },
  ];
  job = wavyJob(shapes, { length: 2200, depth: [610, 660] });
  const plans = await proposePlans(job, new Map(), await loadHighs(), unwatched());
  const planned = plans.flatMap((plan) => Object.values(plan.placements));
  // Turned and moved by odd amounts, so that no corner falls on a whole micrometre by luck.
  const odd = planned.flatMap((placement) => {
    const bench = jointBench(job, placement, new Map());
    return [1, 2, 3, 4].map((k) => bench.move({ side: 0, by: 0.1373 * k, turn: 0.0431 * k, slide: 0.7719 * k }));
  });
  placements = [...planned, ...odd.flatMap((made) => (made?.refusal === null ? [made.placement] : []))];
  expect(odd.filter((made) => made?.refusal === null).length).toBeGreaterThan(3);
}, 60_000);

const moved = (placement: Placement, move: Partial<JointMove>, own = job): Placement | Refusal => {
  const made = jointBench(own, placement, new Map()).move({ ...STILL, ...move });
  if (!made) return 'wood';
  return made.refusal ?? made.placement;
};

/** The same job, its top as deep as the placement at the narrowest place and no deeper: the plan stands on its limit. */
function onLimit(placement: Placement): Job {
  const own = structuredClone(job);
  if (own.tops.counter) own.tops.counter.depth = [placement.depth[0], 660];
  return own;
}

describe('a joint moved by hand', () => {
  test('that is not moved stays as it is, also where the top stands exactly on its least depth', () => {
    expect(placements.length).toBeGreaterThan(1);
    for (const placement of placements) {
      for (const side of [0, 1] as const) {
        const still = moved(placement, { side }, onLimit(placement));
        if (typeof still === 'string') throw new Error(`refused: ${still}`);
        expect(still.depth[0]).toBeCloseTo(placement.depth[0], 2);
        expect(still.depth[1]).toBeCloseTo(placement.depth[1], 2);
      }
    }
  });

  test('on the limit, moves that keep the depth are not refused for it', () => {
    for (const placement of placements) {
      for (const move of [
        { side: 0, by: 1 },
        { side: 0, by: -1 },
        { side: 1, slide: 1 },
      ] as const) {
        expect(moved(placement, move, onLimit(placement))).not.toBe('depth');
      }
    }
  });

  test('a hair under the limit is refused all the same: a tenth of a millimetre is no rounding', () => {
    const placement = placements[0] as Placement;
    const own = structuredClone(job);
    if (own.tops.counter) own.tops.counter.depth = [placement.depth[0] + 0.1, 660];
    expect(moved(placement, {}, own)).toBe('depth');
  });

  test('what a search would refuse is laid as drawn all the same, and the checker says what it breaks', () => {
    let refused = 0;
    for (const placement of placements) {
      const bench = jointBench(job, placement, new Map());
      // As far as its own slab goes, however the plan shares the depth.
      const made = [-60, -100, -140, -180].map((by) => bench.move({ ...STILL, by })).find((one) => one?.refusal);
      if (!made?.refusal) continue;
      refused++;
      const plan = { ...BARE, placements: { counter: made.placement } };
      const { passed, faults } = checkPlan(job, plan);
      expect(passed).toBe(false);
      expect(faults.map(({ message }) => message).join(' ')).toMatch(/\d/);
    }
    expect(refused).toBeGreaterThan(0);
  });

  test('what it gives passes the independent checker', () => {
    for (const placement of placements) {
      const made = moved(placement, { by: 3 });
      if (typeof made === 'string') continue;
      const plan = { ...BARE, placements: { counter: made } };
      expect(checkPlan(job, plan)).toEqual({ passed: true, faults: [] });
    }
  });
});
