import fc from 'fast-check';
import loadHighs from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { bounds, distance, type Segment } from '../../src/geometry';
import { defaultTop, type Job, type Meeting, type Placement, type Plan, type Strip } from '../../src/job';
import {
  type JointMove,
  jointBench,
  type MovedJoint,
  proposePlans,
  stripInTop,
  withPlacements,
} from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { runs } from '../support/runs';
import { wavyJob } from '../support/wavy-slabs';

/** A joint that is more than a seam, moved by hand: it stays what it is, or the checker says what it breaks. */

const highs = await loadHighs();
const STILL = { side: 0, by: 0, turn: 0, slide: 0 } as const;

const planOf = async (job: Job, is: (placement: Placement) => boolean): Promise<Plan> => {
  const plans = await proposePlans(job, new Map(), highs, unwatched());
  const plan = plans.find(({ placements }) => Object.values(placements).some(is));
  if (!plan) throw new Error('No plan has such a joint.');
  return plan;
};

/** A hand on the joint of a placement. */
const handOn = (job: Job, placement: Placement) => {
  const bench = jointBench(job, placement, new Map());
  return (move: Partial<JointMove>): MovedJoint | null => bench.move({ ...STILL, ...move });
};

/** The plan as it is after the hand let go. */
function put(job: Job, plan: Plan, top: string, move: Partial<JointMove>): Plan | null {
  const bench = jointBench(job, plan.placements[top] as Placement, new Map());
  const moved = bench.move({ ...STILL, ...move });
  return moved && withPlacements(job, plan, bench.settled(moved));
}

const linesOf = ({ strips }: Placement): readonly [Segment<'face'>, Segment<'face'>] => {
  const [front, behind] = [strips[0]?.jointBack, strips[1]?.jointFront];
  if (!front || !behind) throw new Error('There is a joint.');
  return [front, behind];
};

/** What a mirror that carries one line onto another makes of a point: by its place along the line and off it, on the other side. */
function opened(p: readonly [number, number], [a, b]: Segment<'face'>, [c, d]: Segment<'face'>): [number, number] {
  const length = distance(a, b);
  const [ux, uy] = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
  const [vx, vy] = [(d[0] - c[0]) / length, (d[1] - c[1]) / length];
  const along = (p[0] - a[0]) * ux + (p[1] - a[1]) * uy;
  const off = (p[1] - a[1]) * ux - (p[0] - a[0]) * uy;
  return [c[0] + along * vx + off * vy, c[1] + along * vy - off * vx];
}

const hand = fc.record({
  side: fc.constantFrom(0 as const, 1 as const),
  by: fc.double({ min: -3, max: 3, noNaN: true }),
  turn: fc.double({ min: -0.3, max: 0.3, noNaN: true }),
  slide: fc.double({ min: -4, max: 4, noNaN: true }),
});

const bookJob = (front: 'live' | 'straight'): Job => {
  const job = wavyJob(
    [0, 1].map(() => ({ length: 1500, width: 420, swing: 4 })),
    { length: 1000, depth: [380, 440], front, seams: 1, leastStrip: 60, bookMatched: true },
  );
  const first = job.flitches.log?.slabs['slab-1'];
  if (!first) throw new Error('There are two slabs.');
  first.faces.bottom = { ...first.faces.top };
  first.faces.top = { ...first.faces.top, outline: null };
  first.tie = null;
  return job;
};

describe('the joint of two halves opened like a book', () => {
  const plans = new Map<string, Plan>();
  it.each(['live', 'straight'] as const)('keeps its mirror whichever half is moved, %s front', async (front) => {
    const job = bookJob(front);
    const plan = await planOf(job, ({ joints }) => joints[0]?.made === 'book');
    plans.set(front, plan);
    const before = plan.placements.counter as Placement;
    const [a, b] = linesOf(before);
    const move = handOn(job, before);
    const still = move({});
    expect(still?.refusal).toBeNull();
    expect(still?.placement.depth[0]).toBeCloseTo(before.depth[0], 2);
    let sound = 0;
    fc.assert(
      fc.property(hand, (how) => {
        const moved = move(how);
        if (!moved) return;
        const { placement, refusal } = moved;
        expect(placement.joints[0]?.made).toBe('book');
        const [c, d] = linesOf(placement);
        for (const i of [0, 1] as const) expect(distance(opened(c[i], a, b), d[i])).toBeLessThan(0.01);
        if (refusal) return;
        sound++;
        const { faults } = checkPlan(job, { ...plan, placements: { counter: placement } });
        expect(faults.filter(({ rule }) => ['book', 'joint', 'size'].includes(rule))).toEqual([]);
      }),
      { numRuns: runs(40) },
    );
    expect(sound).toBeGreaterThan(12);
  });

  it('of a straight top keeps its depth, which both halves share alike', () => {
    const before = plans.get('straight')?.placements.counter as Placement;
    const moved = handOn(bookJob('straight'), before)({ by: -5 });
    expect(moved?.placement.depth[1]).toBeCloseTo(before.depth[1], 2);
    const deep = moved?.placement.strips.map((strip) => bounds(stripInTop(strip))).map(({ minY, maxY }) => maxY - minY);
    expect(deep?.[0]).toBeCloseTo(deep?.[1] as number, 2);
  });
});

describe('the checker of halves opened like a book', () => {
  const says = (job: Job, plan: Plan, placement: Placement): string =>
    checkPlan(job, { ...plan, placements: { counter: placement } })
      .faults.filter(({ rule }) => rule === 'book')
      .map(({ message }) => message)
      .join(' ');

  it('finds a joint that is no mirror line, and a half that is thinner than the top', async () => {
    const job = bookJob('straight');
    const plan = await planOf(job, ({ joints }) => joints[0]?.made === 'book');
    const before = plan.placements.counter as Placement;
    expect(says(job, plan, before)).toBe('');
    // The same two strips as a plain seam, of which one may be slid alone.
    const plain = { ...before, joints: before.joints.map(({ made: _, ...joint }) => joint) };
    const move = handOn(job, plain);
    const slid = [170, -170].flatMap((slide) => move({ side: 1, slide })?.placement ?? []);
    expect(slid.length).toBeGreaterThan(0);
    for (const placement of slid) expect(says(job, plan, placement)).toMatch(/no mirror line.*off each other along/);
    const thin = structuredClone(job);
    const [slab] = Object.values(thin.flitches.log?.slabs ?? {});
    const top = thin.tops.counter;
    if (!slab || !top) throw new Error('There are two.');
    slab.thickness = top.thickness - 1;
    expect(says(thin, plan, before)).toMatch(/too thin as sawn: .*1/);
  });
});

describe('the joint where a crack was ripped out', () => {
  let [job, plan]: [Job, Plan] = [wavyJob([], {}), {} as Plan];
  beforeAll(async () => {
    job = wavyJob([{ length: 1700, width: 620, swing: 3 }], {
      length: 1400,
      depth: [480, 520],
      front: 'straight',
      thickness: 30,
      seams: 1,
    });
    const line = [300, 700, 1250].map((x): [number, number, number] => [x, 310 + 0.01 * (x - 800), 4]);
    const face = job.flitches.log?.slabs['slab-1']?.faces.top;
    if (face) face.defects = { d1: { id: 'd1', kind: 'crack', line, permit: 'keyed' } };
    plan = await planOf(job, ({ joints }) => joints[0]?.made === 'reglued');
  });

  it('stays one, its edges parallel, and is sound or told what it breaks', () => {
    const move = handOn(job, plan.placements.counter as Placement);
    fc.assert(
      fc.property(hand, (how) => {
        const moved = move(how);
        if (!moved) return;
        expect(moved.placement.joints[0]).toMatchObject({ made: 'reglued', ripped: 'd1' });
        const [front, [p, q]] = linesOf(moved.placement);
        const [[ax, ay], [bx, by]] = front;
        const off = ([x, y]: readonly [number, number]) => (bx - ax) * (y - ay) - (by - ay) * (x - ax);
        expect(off(p) / 1400).toBeCloseTo(off(q) / 1400, 3);
        const { passed } = checkPlan(job, { ...plan, placements: { counter: moved.placement } });
        if (moved.refusal) expect(passed).toBe(false);
      }),
      { numRuns: runs(40) },
    );
  });

  it('held still finishes at what the plan promises, and slid along stays parallel by the checker too', () => {
    const before = plan.placements.counter as Placement;
    const move = handOn(job, before);
    expect(move({})?.placement.thickness).toBeCloseTo(before.thickness as number, 6);
    const slid = [12, -12].flatMap((slide) => move({ side: 1, slide }) ?? []).filter(({ refusal }) => !refusal);
    expect(slid.length).toBeGreaterThan(0);
    for (const { placement } of slid) {
      const { faults } = checkPlan(job, { ...plan, placements: { counter: placement } });
      expect(faults.filter(({ rule }) => rule === 'reglue')).toEqual([]);
    }
  });

  it('moved over the crack is told that it is still in the top', () => {
    const moved = handOn(job, plan.placements.counter as Placement)({ side: 0, by: 12 });
    if (!moved) throw new Error('There is wood enough.');
    const { faults } = checkPlan(job, { ...plan, placements: { counter: moved.placement } });
    expect(faults.map(({ rule }) => rule)).toContain('reglue');
  });
});

describe('the joint of a top in a run through which the grain goes on', () => {
  const goesOn = fc.constantFrom<Meeting>('grain carries on', 'folds down');
  const runJob = (meets: readonly Meeting[]): Job => {
    const slab = { length: 2500, width: 220, swing: 3 };
    const top = { ...defaultTop('t'), depth: [290, 330] as [number, number], thickness: 30, seams: 1 };
    const tops = [600, 800, 500].map((length, i) => ({ ...top, id: `t${i}`, name: `Top ${i}`, length }));
    return {
      ...wavyJob([slab, slab], {}),
      tops: Object.fromEntries(tops.map((one) => [one.id, one])),
      runs: { wall: { id: 'wall', name: 'Wall', tops: tops.map(({ id }) => id), meets: [...meets], from: 'anywhere' } },
    };
  };
  const map = (strip: Strip | undefined) => strip?.toTop.slice(0, 4).map((c) => Math.round(c * 1e9));

  it('takes the others along: the run goes on as before', async () => {
    await fc.assert(
      fc.asyncProperty(fc.tuple(goesOn, goesOn), fc.constantFrom('t0', 't1', 't2'), hand, async (meets, top, move) => {
        const job = runJob(meets);
        const plan = await planOf(job, ({ joints }) => joints.length === 1);
        const changed = put(job, plan, top, move);
        if (!changed) return;
        expect(Object.keys(changed.placements).sort()).toEqual(['t0', 't1', 't2']);
        const strips = Object.values(changed.placements).map((one) => one.strips[move.side]);
        for (const strip of strips) expect(map(strip)).toEqual(map(strips[0]));
        const before = Object.values(plan.placements).map((one) => one.strips[move.side]);
        if (Math.abs(move.turn) > 0.01) expect(map(strips[0])).not.toEqual(map(before[0]));
        expect(checkPlan(job, changed).faults.filter(({ rule }) => rule === 'run')).toEqual([]);
      }),
      { numRuns: runs(3) },
    );
  }, 60_000);

  it('turns about the middle of the joint in the hand, not of the run', async () => {
    const job = runJob(['grain carries on', 'grain carries on']);
    const plan = await planOf(job, ({ joints }) => joints.length === 1);
    const held = plan.placements.t2 as Placement;
    const middle = ([p, q]: Segment<'face'>) => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2] as const;
    const moved = handOn(job, held)({ turn: 0.2 });
    if (!moved) throw new Error('There is wood enough.');
    expect(distance(middle(linesOf(moved.placement)[0]), middle(linesOf(held)[0]))).toBeLessThan(0.01);
    const far = moved.others.find(({ placement }) => placement.top === 't0')?.placement as Placement;
    const was = plan.placements.t0 as Placement;
    expect(distance(middle(linesOf(far)[0]), middle(linesOf(was)[0]))).toBeGreaterThan(2);
  });

  it('alone, its others untouched, is told that the grain does not go on', async () => {
    const job = runJob(['grain carries on', 'grain carries on']);
    const plan = await planOf(job, ({ joints }) => joints.length === 1);
    const moved = handOn(job, plan.placements.t1 as Placement)({ by: 3 });
    const placements = { ...plan.placements, t1: moved?.placement as Placement };
    expect(checkPlan(job, { ...plan, placements }).faults.map(({ rule }) => rule)).toContain('run');
  });
});

describe('what the maker said of a blank', () => {
  it('stays with it when its joint is moved', async () => {
    const shape = { length: 2600, width: 480, swing: 6 };
    const job = wavyJob([shape, shape], { length: 2200, depth: [610, 660] });
    const plan = structuredClone(await planOf(job, ({ joints }) => joints.length === 1));
    const accept = { face: 'bottom', skip: 0.02 } as const;
    Object.assign(plan.placements.counter?.strips[1] ?? {}, { spare: 'keep top', accept });
    const changed = put(job, plan, 'counter', { by: 1 });
    expect(changed?.placements.counter?.strips[1]).toMatchObject({ spare: 'keep top', accept });
    expect(changed?.placements.counter?.strips[0]).not.toHaveProperty('spare');
  });
});
