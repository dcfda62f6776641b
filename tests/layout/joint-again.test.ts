import { beforeAll, describe, expect, it } from 'vitest';
import type { Segment } from '../../src/geometry';
import { faceKey, type Job, type Placement } from '../../src/job';
import { type JointBench, jointBench, type MovedJoint } from '../../src/layout';
import { seamed } from '../../src/layout/placement';
import { prepareStock } from '../../src/layout/stock';
import { checkPlan } from '../../src/plan';
import { unwatched } from '../../src/search';
import { helixFace, partner } from '../support/helix-log';
import { wavyJob } from '../support/wavy-slabs';

/** A joint planned on rough faces and found again once they are flat, on an invented log of which it is known where every ring goes on. */

const SIZE = { width: 900, height: 300, y0: 60 };
const [Z1, Z2] = [60, 30];
/** The figure moves as this much is planed off each face, mm. */
const PLANED = 5;
const LENGTH = 650;
const FRONT = 150;

const level = (x: number, y: number, way: 1 | -1): Segment<'face'> => [
  [x - (way * LENGTH) / 2, y],
  [x + (way * LENGTH) / 2, y],
];

/** Where the line behind belongs for the front one at y of its face, both planed by so much. */
function behind(y: number, planed: number): { y: number; dx: number } {
  const { b, dx } = partner(y + SIZE.y0, Z1 - planed, Z2 + planed);
  return { y: b - SIZE.y0, dx };
}

const job: Job = (() => {
  const made = wavyJob(
    [0, 1].map(() => ({ length: SIZE.width, width: SIZE.height, swing: 0 })),
    { length: LENGTH, depth: [180, 240], front: 'straight', seams: 1, leastStrip: 60 },
  );
  for (const slab of Object.values(made.flitches.log?.slabs ?? {})) slab.faces.top.flat = true;
  return made;
})();
const picturesAt = (planed: number) =>
  new Map([
    [faceKey('log', 'slab-1', 'top'), helixFace(Z1 - planed, SIZE)],
    [faceKey('log', 'slab-2', 'top'), helixFace(Z2 + planed, SIZE)],
  ]);

/** As it was planned on the rough faces: the rings go on over the joint there. */
const rough: Placement = (() => {
  const [front, back] = prepareStock(job, new Map());
  if (!front || !back || !job.tops.counter) throw new Error('There are two slabs.');
  const { y, dx } = behind(FRONT, 0);
  // The front strip is kept in front of its line: at less y where the line runs with x.
  const made = seamed(
    {
      front: { stock: front, line: level(430, FRONT, 1) },
      back: { stock: back, line: level(430 + dx, y, 1) },
      ...{ blend: null, lines: null, slide: 0, flipped: false },
    },
    job.tops.counter,
    job.shop,
  );
  if (typeof made === 'string') throw new Error(made);
  return made.placement;
})();

const middle = ([[px, py], [qx, qy]]: Segment<'face'>) => [(px + qx) / 2, (py + qy) / 2] as const;
const linesOf = ({ strips }: Placement): readonly [Segment<'face'>, Segment<'face'>] => {
  const [a, b] = [strips[0]?.jointBack, strips[1]?.jointFront];
  if (!a || !b) throw new Error('There is a joint.');
  return [a, b];
};
/** How far the line behind lies from where the rings of the front one go on. */
function off(placement: Placement, planed: number): { across: number; along: number } {
  const [[ax, ay], [bx, by]] = linesOf(placement).map(middle) as [readonly [number, number], readonly [number, number]];
  const { y, dx } = behind(ay, planed);
  return { across: Math.abs(by - y), along: Math.abs(bx - ax - dx) };
}

let bench: JointBench;
let found: readonly MovedJoint[];
beforeAll(async () => {
  bench = jointBench(job, rough, picturesAt(PLANED));
  found = await bench.again(unwatched());
}, 120_000);

describe('a joint found again on flat faces', () => {
  it('is off once both faces are planed, and found within a millimetre of where the rings go on', () => {
    expect(off(rough, 0).across).toBeLessThan(0.01);
    expect(off(rough, PLANED).across).toBeGreaterThan(1.5);
    const [best] = found;
    if (!best) throw new Error('It is found.');
    expect(off(best.placement, PLANED).across).toBeLessThan(1);
    expect(off(best.placement, PLANED).along).toBeLessThan(6);
  });

  it('carries the lines over better than where it was, and passes the checker', () => {
    const was = bench.move({ side: 0, by: 0, turn: 0, slide: 0 });
    const lines = was?.placement.joints[0]?.lines as number;
    expect(found[0]?.placement.joints[0]?.lines).toBeGreaterThan(lines + 0.1);
    for (const { placement } of found) {
      const plan = {
        id: 'p',
        name: 'Plan',
        misses: [],
        waste: 0,
        cost: null,
        gap: 0,
        placements: { counter: placement },
      };
      expect(checkPlan(job, plan).faults).toEqual([]);
    }
  });

  it('stays within half of the wood that was left for it, at either end, and keeps the depth', () => {
    expect(found.length).toBeGreaterThan(1);
    for (const { placement } of found) {
      for (const i of [0, 1] as const)
        for (const k of [0, 1] as const) {
          const [was, is] = [linesOf(rough)[i][k], linesOf(placement)[i][k]];
          // The line was level.
          expect(Math.abs(is[1] - was[1])).toBeLessThanOrEqual(job.shop.jointAllowance / 2 + 1e-3);
          expect(Math.abs(is[0] - was[0])).toBeLessThanOrEqual(job.shop.endAllowance / 2 + 1e-3);
        }
      expect(placement.depth[1]).toBeCloseTo(rough.depth[1], 2);
    }
  });

  it('is asked for without pictures in vain, and that is said', async () => {
    await expect(jointBench(job, rough, new Map()).again(unwatched())).rejects.toThrow(/pictures of both faces/);
  });
});
