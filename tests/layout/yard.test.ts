import fc from 'fast-check';
import loadHighs from 'highs';
import { describe, expect, it } from 'vitest';
import { bounds as box, regionArea } from '../../src/geometry';
import type { Job, Plan } from '../../src/job';
import { bestWithout, boundRack, jobWith, type Looked, proposePlans, rankYard } from '../../src/layout';
import { assumedOutline } from '../../src/layout/yard-assumed';
import type { YardBound } from '../../src/layout/yard-bound';
import { planValue } from '../../src/layout/yard-value';
import { unwatched, WorkBudget } from '../../src/search';
import { problemOf } from '../support/problem-of';
import { rackJob } from '../support/rack';
import { runs } from '../support/runs';

const highs = await loadHighs();

/** The full search of one set. */
async function layOut(job: Job, slabs: readonly string[]): Promise<Plan> {
  const [plan] = await proposePlans(jobWith(job, slabs), new Map(), highs, unwatched());
  if (!plan) throw new Error('no plan');
  return plan;
}

const looked = (plan: Plan, value: number): Looked => ({ plan, value, most: value, hope: value, seen: true });

const named = ({ slabs }: YardBound): string => slabs.join(' + ');

describe('a rack against the full search of every set', () => {
  const one = [{ name: 'Counter', length: 2000, depth: [560, 620] as [number, number], thickness: 34, seams: 1 }];
  const two = [...one, { name: 'Shelf', length: 900, depth: [240, 280] as [number, number], thickness: 30, seams: 0 }];
  it.each([
    ['one top, traced slabs', { slabs: 3, seed: 3, tops: one }],
    ['two tops, half of the slabs taped', { slabs: 3, seed: 8, taped: 0.5, tops: two }],
  ])(
    '%s: the leader is the best of all, and no set is worth more than its bound',
    async (_, wish) => {
      const job = rackJob(wish);
      const bounds = await boundRack(job, 'best', unwatched());
      const pairs = (wish.slabs * (wish.slabs + 1)) / 2;
      expect(bounds.filter(({ slabs }) => slabs.length <= 2)).toHaveLength(pairs);
      const plans = new Map<string, Plan>();
      for (const bound of bounds) {
        const plan = await layOut(job, bound.slabs);
        plans.set(named(bound), plan);
        const { value } = planValue(job, plan, 'best', bound.slabs, bound);
        expect(value, named(bound)).toBeLessThanOrEqual(bound.most + 1e-6);
        // What sizes alone rule out, the full search does not find either.
        const had = Object.values(plan.placements).filter(
          ({ thickness, top }) => (thickness ?? 99) >= (job.tops[top]?.thickness ?? 0),
        );
        for (const { top } of had) expect(bound.lacks.map((lack) => lack.top)).not.toContain(top);
      }
      const worth = (bound: YardBound) =>
        planValue(job, plans.get(named(bound)) as Plan, 'best', bound.slabs, bound).value;
      const ranking = await rankYard({
        bounds,
        control: unwatched(),
        look: async (bound) => looked(plans.get(named(bound)) as Plan, worth(bound)),
      });
      expect(ranking.open).toBe(0);
      expect(ranking.entries[0]?.look?.value).toBeCloseTo(Math.max(...bounds.map(worth)), 6);
      // And so it is when one of its slabs is sold.
      for (const sold of ranking.entries[0]?.bound.slabs ?? []) {
        const rest = bounds.filter(({ slabs, tops }) => !slabs.includes(sold) && tops.length > 0);
        const next = bestWithout(ranking, sold);
        expect(next?.bound.slabs).not.toContain(sold);
        expect(next?.look?.value ?? -Infinity).toBeCloseTo(Math.max(...rest.map(worth)), 6);
      }
    },
    300_000,
  );
});

describe('the race', () => {
  const names = ['a', 'b', 'c', 'd', 'e', 'f'];
  const sets = [...names.map((n) => [n]), ...names.flatMap((a, i) => names.slice(i + 1).map((b) => [a, b]))];
  const plan: Plan = { id: 'p', name: 'p', placements: {}, misses: [], waste: 0, cost: null, gap: 0 };
  /** What each set turns out to be worth, and how far its bound lies over that. */
  const rack = fc.array(fc.tuple(fc.integer({ min: -5, max: 60 }), fc.integer({ min: 0, max: 25 })), {
    minLength: sets.length,
    maxLength: sets.length,
  });
  const opened = (figures: readonly (readonly [number, number])[]) =>
    sets.map((slabs, i) => {
      const [value, slack] = figures[i] as readonly [number, number];
      const bound: YardBound = {
        ...{ slabs, price: 0, paid: 0, wood: 0, lacks: [], tops: ['t'] },
        most: value + slack,
        hope: value + slack / 2,
      };
      return { bound, value };
    });

  it('finds the best, and the next best without each of its slabs; with exact bounds by a batch for each', async () => {
    await fc.assert(
      fc.asyncProperty(rack, fc.boolean(), async (loose, exact) => {
        const figures = exact ? loose.map(([value]) => [value, 0] as const) : loose;
        const all = opened(figures);
        const seen: YardBound[] = [];
        const ranking = await rankYard({
          bounds: all.map(({ bound }) => bound),
          control: unwatched(),
          look: async (bound) => {
            seen.push(bound);
            return looked(plan, all.find((one) => one.bound === bound)?.value ?? 0);
          },
        });
        const best = (sold: string | null) =>
          Math.max(...all.filter(({ bound }) => !bound.slabs.includes(sold ?? '')).map(({ value }) => value));
        const first = ranking.entries[0];
        expect(first?.look?.value).toBe(best(null));
        const goals = [null, ...(first?.bound.slabs ?? [])];
        for (const sold of goals) expect(bestWithout(ranking, sold)?.look?.value).toBe(best(sold));
        expect(new Set(seen).size).toBe(seen.length);
        if (exact) expect(seen.length).toBeLessThanOrEqual(4 * goals.length);
      }),
      { numRuns: runs(200) },
    );
  });

  it('looks at seams only of what may still lead once it is laid out by shape, and never twice', async () => {
    await fc.assert(
      fc.asyncProperty(rack, async (figures) => {
        const all = opened(figures);
        const asked = new Map<YardBound, boolean[]>();
        const ranking = await rankYard({
          bounds: all.map(({ bound }) => bound),
          control: unwatched(),
          look: async (bound, pictures) => {
            asked.set(bound, [...(asked.get(bound) ?? []), pictures]);
            const value = all.find((one) => one.bound === bound)?.value ?? 0;
            // By shape alone its seams count as ones that show: less than it is worth, and it might be worth as much as its bound.
            return pictures
              ? looked(plan, value)
              : { plan, value: value - 1, most: bound.most, hope: bound.hope, seen: false };
          },
        });
        const best = Math.max(...all.map(({ value }) => value));
        expect(ranking.open).toBe(0);
        expect(bestWithout(ranking, null)?.look?.value).toBe(best);
        for (const times of asked.values()) expect([[false], [false, true]]).toContainEqual(times);
      }),
      { numRuns: runs(100) },
    );
  });

  it('says of what is left how much it could gain at most, when the time is up', async () => {
    await fc.assert(
      fc.asyncProperty(rack, fc.integer({ min: 1, max: 12 }), async (figures, budget) => {
        const all = opened(figures);
        const { entries, open, gain } = await rankYard({
          bounds: all.map(({ bound }) => bound),
          control: unwatched(new WorkBudget(budget)),
          look: async (bound) => looked(plan, all.find((one) => one.bound === bound)?.value ?? 0),
        });
        const found = Math.max(...entries.map(({ look }) => look?.value ?? -Infinity));
        expect(Math.max(...all.map(({ value }) => value)) - found).toBeLessThanOrEqual(open === 0 ? 0 : Infinity);
        const beats = entries.filter(({ bound, look }) => !look && bound.most > found);
        if (beats.length > 0) {
          expect(open).toBe(beats.length);
          expect(gain).toBe(Math.max(...beats.map(({ bound }) => bound.most)) - found);
        }
      }),
      { numRuns: runs(60) },
    );
  });

  it('is the same in whatever order looks come back, and stops where the budget ends with what was found', async () => {
    await fc.assert(
      fc.asyncProperty(rack, fc.integer({ min: 0, max: 12 }), async (figures, budget) => {
        const all = opened(figures);
        const run = (wait: (bound: YardBound) => number) =>
          rankYard({
            bounds: all.map(({ bound }) => bound),
            control: unwatched(new WorkBudget(budget)),
            look: async (bound) => {
              for (let i = 0; i < wait(bound); i++) await Promise.resolve();
              return looked(plan, all.find((one) => one.bound === bound)?.value ?? 0);
            },
          });
        const [one, other] = [await run(() => 0), await run(({ slabs }) => (7 * slabs.join().charCodeAt(0)) % 5)];
        expect(other).toEqual(one);
        expect(one.looked).toBeLessThanOrEqual(budget);
      }),
      { numRuns: runs(60) },
    );
  });
});

describe('a slab that was only taped', () => {
  it('has an outline of its widths, whose area is that of the wood between them', () => {
    const outline = assumedOutline({ length: 2400, widths: [500, 460, 420] });
    if (!outline) throw new Error('no outline');
    const { minX, maxX, minY, maxY } = box(outline.outer);
    expect([minX, maxX, minY, maxY]).toEqual([0, 2400, -250, 250]);
    // Trapezoids by hand: 240 x 500, 960 x 480, 960 x 440, 240 x 420.
    expect(regionArea(outline)).toBeCloseTo(240 * 500 + 960 * 480 + 960 * 440 + 240 * 420, 6);
  });

  it('takes the narrowest width where one was not taped, and is nothing without a length or any width', () => {
    const outline = assumedOutline({ length: 2000, widths: [500, null, 440] });
    const middle = outline?.outer.filter(([x]) => x === 1000).map(([, y]) => y);
    expect(middle).toEqual([-220, 220]);
    // Beside a hole only what is clear of it counts.
    const clear = assumedOutline({ length: 2000, widths: [500, null, 300], clear: 410 });
    const ys = clear?.outer.map(([, y]) => y) ?? [];
    expect(Math.max(...ys) - Math.min(...ys)).toBe(410);
    expect(assumedOutline({ length: null, widths: [500, 500, 500] })).toBeNull();
    expect(assumedOutline({ length: 2000, widths: [null, null, null] })).toBeNull();
  });

  it('finishes thinner where its bow was not read than where it was read as none', async () => {
    const job = rackJob({
      slabs: 1,
      seed: 5,
      taped: 1,
      tops: [{ length: 1500, depth: [200, 260], thickness: 20, seams: 0 }],
    });
    const thickness = async (bow: number | null) => {
      const known = structuredClone(job);
      const slab = known.flitches['log-1']?.slabs['slab-1'];
      if (slab?.warp) Object.assign(slab.warp, { bow, cup: 0, twist: 0 });
      const plan = await layOut(known, ['log-1/slab-1']);
      return plan.placements['top-1']?.thickness ?? Number.NaN;
    };
    const [read, unread] = [await thickness(0), await thickness(null)];
    expect(unread).toBeLessThan(read - 0.3);
  });

  it('is refused by name of what is missing where nothing was taped', async () => {
    const job = rackJob({ slabs: 1, seed: 5, taped: 1 });
    const slab = job.flitches['log-1']?.slabs['slab-1'];
    if (slab) delete slab.taped;
    const problem = await boundRack(job, 'best', unwatched()).then(
      () => null,
      (error) =>
        problemOf(() => {
          throw error;
        }),
    );
    expect(problem?.mend).toMatch(/length and a width/);
  });
});
