import loadHighs from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Job, Plan } from '../../src/job';
import { proposePlans } from '../../src/layout';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { wavyJob } from '../support/wavy-slabs';

/**
 * The checker must find every fault that can be put into a sound plan by hand. Each case spoils one thing.
 */
let job: Job;
let plan: Plan;

beforeAll(async () => {
  job = wavyJob(
    [
      { length: 2600, width: 480, swing: 12 },
      { length: 2500, width: 460, swing: 9 },
    ],
    { length: 2200, depth: [610, 660] },
  );
  const plans = await proposePlans(job, new Map(), await loadHighs(), unwatched());
  plan = plans[0] as Plan;
});

type Strips = Plan['placements'][string]['strips'];

function spoilt(change: (strips: Strips, plan: Plan, job: Job) => void): string[] {
  const [p, j] = [structuredClone(plan), structuredClone(job)];
  change(p.placements.counter?.strips as Strips, p, j);
  return checkPlan(j, p).faults.map(({ message }) => message);
}

const shifted = (ring: Strips[0]['finished'], dx: number, dy: number) =>
  ring.map(([x, y]) => [x + dx, y + dy] as const);

describe('the checker', () => {
  it('passes the plan as the search made it', () => {
    expect(checkPlan(job, plan)).toEqual({ passed: true, faults: [] });
  });

  it.each<[string, RegExp, (strips: Strips, plan: Plan, job: Job) => void]>([
    [
      'a strip moved off the wood',
      /outside the wood/,
      ([s]) => s && Object.assign(s, { finished: shifted(s.finished, 0, 300), rough: shifted(s.rough, 0, 300) }),
    ],
    [
      'a blank smaller than its strip',
      /blank is smaller/,
      ([s]) => s && Object.assign(s, { rough: shifted(s.finished, 15, 0) }),
    ],
    [
      'a mirrored strip',
      /mirrored/,
      ([s]) =>
        s && Object.assign(s, { toTop: [s.toTop[0], s.toTop[1], -s.toTop[2], -s.toTop[3], s.toTop[4], s.toTop[5]] }),
    ],
    [
      'a joint that slants away',
      /do not meet|not straight/,
      ([s]) =>
        s?.jointBack && Object.assign(s, { jointBack: [s.jointBack[0], [s.jointBack[1][0], s.jointBack[1][1] + 3]] }),
    ],
    [
      'a band that the depth leaves',
      /narrowest/,
      (_, __, j) => Object.assign(j.tops.counter ?? {}, { depth: [655, 660] }),
    ],
    [
      'a top that is longer than planned',
      /long; 2210\smm are wanted/,
      (_, __, j) => Object.assign(j.tops.counter ?? {}, { length: 2210 }),
    ],
    ['one seam more than allowed', /are allowed/, (_, __, j) => Object.assign(j.tops.counter ?? {}, { seams: 0 })],
    ['a finish too thin', /finishes at/, (_, __, j) => Object.assign(j.tops.counter ?? {}, { thickness: 49 })],
    [
      'both strips from one slab',
      /overlap|room for the saw|outside the wood/,
      (strips) => {
        for (const s of strips) s.slab = 'slab-1';
      },
    ],
    [
      'a slab that lost its outline',
      /no outline/,
      (_, __, j) => Object.assign(j.flitches.log?.slabs['slab-1']?.faces.top ?? {}, { outline: null }),
    ],
    ['a top that is gone', /is gone/, (_, __, j) => Reflect.deleteProperty(j.tops, 'counter')],
  ])('finds %s', (_, message, change) => {
    expect(spoilt(change).join('\n')).toMatch(message);
  });

  it('finds a defect inside the top, and lets it pass where the top is covered', () => {
    const rot = (j: Job, strips: Strips): void => {
      const strip = strips[0] as Strips[0];
      const [x, y] = [0, 1].map(
        (k) => strip.finished.reduce((sum, p) => sum + (p[k] as number), 0) / strip.finished.length,
      ) as [number, number];
      const face = j.flitches.log?.slabs[strip.slab]?.faces.top;
      if (face)
        face.defects.r = {
          id: 'r',
          kind: 'rot',
          permit: 'avoid',
          polygon: [
            [x - 10, y - 10],
            [x + 10, y - 10],
            [x + 10, y + 10],
            [x - 10, y + 10],
          ],
        };
    };
    expect(spoilt((strips, _, j) => rot(j, strips)).join()).toMatch(/kept off/);
    const all = [
      [0, 0],
      [2200, 0],
      [2200, 700],
      [0, 700],
    ] as const;
    expect(
      spoilt((strips, _, j) => {
        rot(j, strips);
        if (j.tops.counter) j.tops.counter.covered = { sink: { id: 'sink', polygon: all } };
      }),
    ).toEqual([]);
  });
});
