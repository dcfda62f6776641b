import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { bounds, distance, type Segment } from '../../src/geometry';
import { faceKey, type Job, type Plan, type Strip } from '../../src/job';
import { proposePlans, sizeAlong, stripInTop, stripMap } from '../../src/layout';
import { seamsBehind } from '../../src/layout/seam-behind';
import { grainOfPairs } from '../../src/layout/seam-grain';
import { prepareStock } from '../../src/layout/stock';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { helixFace, partner } from '../support/helix-log';
import { wavyJob } from '../support/wavy-slabs';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

const best = async (job: Job): Promise<Plan> => {
  const [plan] = await proposePlans(job, new Map(), highs, unwatched());
  if (!plan) throw new Error('There is always a plan, be it of misses.');
  return plan;
};

const middle = ([[ax, ay], [bx, by]]: Segment<'face'>) => [(ax + bx) / 2, (ay + by) / 2] as const;
const width = (strip: Strip): number => sizeAlong(stripMap(strip), strip.finished)[1];

/** What is true of every top of several strips with a straight front. */
function expectWhole(job: Job, plan: Plan, strips: number): void {
  const placed = plan.placements.counter;
  if (!placed) throw new Error(plan.misses.map(({ message }) => message).join());
  expect(placed.strips).toHaveLength(strips);
  expect(placed.joints).toHaveLength(strips - 1);
  // Widths add up to the depth, each strip beginning where the one in front of it ends.
  const sum = placed.strips.reduce((all, strip) => all + width(strip), 0);
  expect(sum).toBeCloseTo(placed.depth[1], 2);
  placed.strips.slice(1).forEach((strip, i) => {
    const before = bounds(stripInTop(placed.strips[i] as Strip));
    expect(bounds(stripInTop(strip)).minY).toBeCloseTo(before.maxY, 2);
    expect(distance(...(strip.jointFront as NonNullable<Strip['jointFront']>))).toBeCloseTo(
      job.tops.counter?.length ?? 0,
      6,
    );
  });
  for (const strip of placed.strips)
    expect(width(strip)).toBeGreaterThanOrEqual((job.tops.counter?.leastStrip ?? 0) - 0.01);
  expect(checkPlan(job, plan)).toMatchObject({ passed: true, faults: [] });
}

describe('a top too deep for two slabs', () => {
  const slab = { length: 1500, width: 300, swing: 4 };

  it('is glued of three, the live strip in front', async () => {
    const job = wavyJob([slab, slab, slab], { length: 1300, depth: [700, 750], seams: 2 });
    const plan = await best(job);
    const placed = plan.placements.counter;
    expect(placed?.strips).toHaveLength(3);
    expect(new Set(placed?.strips.map((strip) => strip.slab)).size).toBe(3);
    const [front] = placed?.strips ?? [];
    // A live edge is no straight line: its strip has more corners than a rectangle.
    expect(front?.finished.length).toBeGreaterThan(8);
    expect(front?.jointFront).toBeNull();
    expect(checkPlan(job, plan)).toMatchObject({ passed: true, faults: [] });
  });

  it('is glued of four with a straight front, and missed where a seam fewer is allowed', async () => {
    const top = { length: 1300, depth: [1000, 1040] as [number, number], front: 'straight' as const };
    const job = wavyJob([slab, slab, slab, slab], { ...top, seams: 3 });
    expectWhole(job, await best(job), 4);
    const fewer = wavyJob([slab, slab, slab, slab], { ...top, seams: 2 });
    const missed = await best(fewer);
    expect(missed.placements.counter).toBeUndefined();
    expect(missed.misses[0]?.top).toBe('counter');
  });
});

describe('one long slab', () => {
  it('gives a top of two of its lengths side by side, with room for the saw between them', async () => {
    const job = wavyJob([{ length: 2600, width: 320, swing: 3 }], {
      length: 1150,
      depth: [560, 600],
      front: 'straight',
      seams: 1,
    });
    const plan = await best(job);
    expectWhole(job, plan, 2);
    const [a, b] = (plan.placements.counter?.strips ?? []).map(({ rough }) => bounds(rough));
    if (!a || !b) throw new Error('It has two strips.');
    expect(Math.max(a.minX - b.maxX, b.minX - a.maxX)).toBeGreaterThanOrEqual(job.shop.kerf.crosscut - 0.01);
  });
});

describe('a further seam behind a strip', () => {
  it('is found where every ring goes on, its line parallel to the one in front, within 1 mm and 6 mm of slide', async () => {
    // Two faces of one helical log: the line that continues another is known.
    const size = { width: 1000, height: 260, y0: 40 };
    const [z1, z2] = [-70, -15];
    const job = wavyJob(
      [z1, z2].map(() => ({ length: size.width, width: size.height, swing: 0 })),
      {},
    );
    const pictures = new Map([z1, z2].map((z, i) => [faceKey('log', `slab-${i + 1}`, 'top'), helixFace(z, size)]));
    const [front, back] = prepareStock(job, pictures);
    const looks = front && back && grainOfPairs(3)(front, back);
    if (!looks) throw new Error('Both have pictures.');
    const line: Segment<'face'> = [
      [150, 30],
      [850, 30],
    ];
    const wish = {
      length: 700,
      width: [60, 150] as const,
      least: () => 60,
      slide: 120,
      degrees: 1,
      ends: 'same' as const,
    };
    const found = await seamsBehind(line, front, back, looks, wish, unwatched());
    const off = found.map((seam) => {
      const [[ax, ay], [bx, by]] = [middle(seam.front.line), middle(seam.back.line)];
      expect(ay).toBeCloseTo(30 + seam.width, 6);
      const { b, dx } = partner(ay + size.y0, z1, z2);
      return { across: Math.abs(by + size.y0 - b), along: Math.abs(bx - ax - dx) };
    });
    expect(off.some(({ across, along }) => across < 1 && along < 6)).toBe(true);
  });
});
