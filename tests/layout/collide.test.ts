import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Affine, applyAll, invert, type Point, rectangle, rigid } from '../../src/geometry';
import type { Placement, Strip } from '../../src/job';
import { collide } from '../../src/layout/collide';
import { checkPlan } from '../../src/plan';
import { wavyJob } from '../support/wavy-slabs';

/** The search and the checker, which share no code, must say the same of two blanks on one slab. */

const job = wavyJob([{ length: 3000, width: 2000, swing: 0 }], { length: 400, depth: [100, 200] });
job.tops = Object.fromEntries(['a', 'b'].map((id) => [id, { ...Object.values(job.tops)[0], id, name: id }])) as never;
job.shop.kerf = { ...job.shop.kerf, crosscut: 3, rip: 5 };
const ALLOWED = 10;

interface Lie {
  readonly x: number;
  readonly y: number;
  readonly degrees: number;
  readonly length: number;
  readonly depth: number;
}

/** A blank of that size with its front right corner there, chamfered at its corners by so much. */
function stripAt({ x, y, degrees, length, depth }: Lie, chamfer: number): Strip {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  const toFace: Affine<'top', 'face'> = { m: [cos, sin, -sin, cos, x, y] };
  const rough: Point<'top'>[] = [
    [-ALLOWED + chamfer, -ALLOWED],
    [length + ALLOWED, -ALLOWED],
    [length + ALLOWED, depth + ALLOWED - chamfer],
    [length + ALLOWED - chamfer, depth + ALLOWED],
    [-ALLOWED, depth + ALLOWED],
    [-ALLOWED, -ALLOWED + chamfer],
  ];
  return {
    flitch: 'log',
    slab: 'slab-1',
    face: 'top',
    toTop: [...invert(toFace).m],
    finished: applyAll(toFace, rectangle<'top'>(0, 0, length, depth)),
    rough: applyAll(toFace, rough),
    jointFront: null,
    jointBack: null,
  };
}

const placementOf = (top: string, strip: Strip): Placement => ({
  top,
  strips: [strip],
  joints: [],
  depth: [150, 150],
  thickness: null,
});

/** Whether the checker finds them overlapping or the saw without room. */
function isFaulty(a: Strip, b: Strip): boolean {
  const placements = { a: placementOf('a', a), b: placementOf('b', b) };
  const { faults } = checkPlan(job, { id: 'p', name: 'P', misses: [], waste: 0, cost: null, gap: 0, placements });
  return faults.some(({ rule }) => rule === 'overlap' || rule === 'kerf');
}

const shape = {
  degrees: fc.constantFrom(0, 0, 2, -3, 30, 90, 180),
  length: fc.integer({ min: 100, max: 400 }),
  depth: fc.integer({ min: 60, max: 200 }),
};

describe('two blanks on one slab', () => {
  it('collide for the search where the checker finds no room for the saw, and only there', () => {
    let [clear, not] = [0, 0];
    const pair = fc.record({
      a: fc.record(shape),
      b: fc.record(shape),
      // About a corner of the first: where a straight cut just does or does not part them.
      along: fc.oneof(fc.integer({ min: -30, max: 30 }), fc.integer({ min: -400, max: 400 })),
      across: fc.oneof(fc.integer({ min: -30, max: 30 }), fc.integer({ min: -250, max: 250 })),
      chamfer: fc.constantFrom(0.5, 20),
    });
    fc.assert(
      fc.property(pair, ({ a, b, along, across, chamfer }) => {
        const at = { x: 1400, y: 900 };
        const first = stripAt({ ...a, ...at }, chamfer);
        const beyond = rigid<'top', 'face'>(a.degrees, 0, 0);
        const [dx, dy] = applyAll(beyond, [[a.length + 2 * ALLOWED + along, a.depth + 2 * ALLOWED + across]])[0] ?? [
          0, 0,
        ];
        const second = stripAt({ ...b, x: at.x + dx, y: at.y + dy }, chamfer);
        const says = collide(first, second, job.shop.kerf);
        expect(says).toBe(isFaulty(first, second));
        expect(collide(second, first, job.shop.kerf)).toBe(says);
        if (says) not++;
        else clear++;
      }),
      { numRuns: 250 },
    );
    expect(Math.min(clear, not)).toBeGreaterThan(40);
  });

  it('are parted by the kerf of the saw that makes the cut: a crosscut at their ends, a rip along them', () => {
    const lie = { x: 1000, y: 900, degrees: 0, length: 300, depth: 150 };
    const a = stripAt(lie, 0.5);
    const beside = (dx: number, dy: number) => stripAt({ ...lie, x: lie.x + dx, y: lie.y + dy }, 0.5);
    const [long, deep] = [lie.length + 2 * ALLOWED, lie.depth + 2 * ALLOWED];
    expect(collide(a, beside(long + 3, 0), job.shop.kerf)).toBe(false);
    expect(collide(a, beside(long + 2.8, 0), job.shop.kerf)).toBe(true);
    expect(collide(a, beside(0, deep + 5), job.shop.kerf)).toBe(false);
    expect(collide(a, beside(0, deep + 4.8), job.shop.kerf)).toBe(true);
    expect(collide(a, { ...beside(0, 900), face: 'bottom' }, job.shop.kerf)).toBe(true);
    expect(collide(a, { ...a, slab: 'slab-2' }, job.shop.kerf)).toBe(false);
  });
});
