import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { rectangle } from '../../src/geometry';
import { type Job, type Plan, type Top, wantedTops } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { groundOf } from '../../src/layout/ground';
import { whyNot } from '../../src/layout/miss';
import { checkPlan, planReport } from '../../src/plan';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

const SLABS = [
  { length: 2600, width: 700, swing: 14, thickness: 54 },
  { length: 2500, width: 460, swing: 9, thickness: 54 },
];
const jobWith = (top: Partial<Top>): Job =>
  wavyJob(SLABS, { length: 1800, depth: [500, 560], thickness: 38, seams: 0, ...top });
async function bestPlan(job: Job): Promise<Plan> {
  const [plan] = await proposePlans(job, new Map(), highs, unwatched());
  if (!plan) throw new Error('There is always a plan.');
  return plan;
}
const end = (degrees: number) => ({ edge: 'straight' as const, degrees, short: 40 });
const LIVE = { edge: 'live' as const, degrees: 90, short: 30 };

/** The wishes of issue 5 that change what is cut, each by itself. */
const WISHES: readonly (readonly [string, Partial<Top>])[] = [
  ['a mitred end', { ends: { right: end(135), left: end(90) } }],
  ['wood for scribing', { scribe: { back: 10, right: 5, left: 5 }, wallBow: 6 }],
  ['a round top', { shape: { kind: 'round' }, length: 640 }],
  ['an oval top', { shape: { kind: 'oval' }, length: 1500, depth: [600, 600] }],
  ['a live back', { back: 'live', front: 'straight' }],
  ['two live edges in one piece', { back: 'live', depth: [680, 720] }],
  ['two live edges on a seam', { back: 'live', depth: [800, 860], seams: 1 }],
  ['a live end', { ends: { right: LIVE, left: end(90) } }],
  ['grain across', { length: 500, depth: [400, 450], front: 'straight', grain: { degrees: 90, tolerance: 3 } }],
  [
    'a zone without seams',
    { depth: [800, 860], seams: 1, noSeam: { z: { id: 'z', polygon: rectangle(0, 0, 900, 60) } } },
  ],
  ['a calm edge', { swing: 20 }],
];

/** What others of the list are near to: left out to keep CI short. */
const NEAR = [
  'an oval top',
  'a round top',
  'a live end',
  'a zone without seams',
  'a calm edge',
  'grain across',
  'two live edges in one piece',
  'wood for scribing',
];
const tried = WISHES.filter(([name]) => process.env.SLOW || !NEAR.includes(name));

describe('a plan', () => {
  it.each(tried)('is found and passes the checker for %s', async (_, wish) => {
    const job = jobWith(wish);
    const plan = await bestPlan(job);
    expect(plan.misses).toEqual([]);
    expect(Object.keys(plan.placements)).toEqual(['counter']);
    expect(checkPlan(job, plan).faults).toEqual([]);
    // The whole report can be computed of it.
    expect(planReport(job, plan).tops).toHaveLength(1);
  });

  it('that cannot be had says by how much the live edge swings too far', async () => {
    const { misses } = await bestPlan(jobWith({ swing: 1.5 }));
    expect(misses[0]?.limit).toBe('swing');
    expect(misses[0]?.by).toBeGreaterThan(0);
    expect(misses[0]?.message).toContain('within 500');
  });

  it.each([
    ['a live end', { ends: { right: LIVE, left: end(90) } }],
    ['such grain', { grain: { degrees: 90, tolerance: 3 } }],
  ])('that would need a seam says that a top with %s has none', (wish, wants) => {
    const job = jobWith({ depth: [800, 860], seams: 1, ...wants });
    const [top] = wantedTops(job);
    if (!top) throw new Error('no top');
    const { limit, by, message } = whyNot(top, groundOf(job, new Map()).stock, [], job);
    expect(limit).toBe('seams');
    expect(by).toBeGreaterThan(0);
    expect(message).toContain(`a top with ${wish} is cut from one piece only`);
  });

  it.each([
    [
      'a hole',
      { cutOuts: { s: { id: 's', name: 'Sink', polygon: rectangle(400, 60, 1000, 640), keep: 5, seam: false } } },
    ],
    ['a zone', { noSeam: { z: { id: 'z', polygon: rectangle<'top'>(400, 60, 1000, 640) } } }],
  ] as const)(
    'that can be seamed nowhere but in %s names it, and is had once it is as much smaller as it says',
    async (_, wish) => {
      // The slab behind, 460 wide, begins 340 from the front at least, the one in front ends at 700.
      const job = (zones: Partial<Top>): Job => jobWith({ depth: [800, 820], seams: 1, ...zones });
      const [miss] = (await bestPlan(job(wish as Partial<Top>))).misses;
      expect(miss?.limit).toBe('zone');
      expect(miss?.message).toContain(
        'cutOuts' in wish ? 'the hole "Sink"' : 'begins 800 from the left-hand end and 60 from the front',
      );
      const free = rectangle<'top'>(400, 60, 1000, 640 - (miss?.by ?? 0) - 1);
      const less = (zones: Readonly<Record<string, { id: string }>>) =>
        Object.fromEntries(Object.entries(zones).map(([id, zone]) => [id, { ...zone, polygon: free }]));
      const [kind, zones] = Object.entries(wish)[0] as [string, Record<string, { id: string }>];
      const plan = await bestPlan(job({ [kind]: less(zones) }));
      expect(plan.misses).toEqual([]);
    },
  );

  it('lays a void where the hole for the sink takes it out, though no place is clear of it', async () => {
    const hole = { id: 's', name: 'Sink', polygon: rectangle<'top'>(500, 120, 1000, 440), keep: 60, seam: false };
    const withVoid = (wish: Partial<Top>): Job => {
      const job = jobWith({ front: 'straight', depth: [540, 560], ...wish });
      const slab = job.flitches.log?.slabs['slab-1'];
      const at = rectangle<'face'>(1200, 300, 1330, 380).map(([x, y]): [number, number] => [x, y]);
      if (slab) slab.faces.top.defects.v = { id: 'v', kind: 'void', permit: 'avoid', polygon: at };
      return job;
    };
    expect((await bestPlan(withVoid({}))).misses[0]?.limit).toBe('defect');
    const job = withVoid({ cutOuts: { s: hole } });
    const plan = await bestPlan(job);
    expect(plan.misses).toEqual([]);
    expect(checkPlan(job, plan).faults).toEqual([]);
  });

  it('is missed by what is too large for the way in, and had where the way is as wide as the top', async () => {
    const job = jobWith({});
    const limited = (length: number): Job => ({ ...job, shop: { ...job.shop, stairs: { length, width: 700 } } });
    const { misses } = await bestPlan(limited(1750));
    expect(misses[0]?.limit).toBe('stairs');
    expect(misses[0]?.by).toBeCloseTo(50, 1);
    expect((await bestPlan(limited(1800))).misses).toEqual([]);
  });

  it('is refused before it is looked for where the wish cannot be, with the field and the mend', async () => {
    const hole = { id: 'h', name: 'Sink', polygon: rectangle<'top'>(1500, 100, 2100, 400), keep: 60, seam: false };
    await expect(bestPlan(jobWith({ cutOuts: { h: hole } }))).rejects.toMatchObject({
      where: '/tops/counter/cutOuts/h',
      message: 'A hole lies outside the top by up to 300.',
    });
    await expect(bestPlan(jobWith({ swing: 0.5 }))).rejects.toMatchObject({ where: '/tops/counter/swing' });
  });
});
