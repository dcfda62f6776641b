import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Affine, apply, centroid, compose, contains, invert, type Point, ringArea } from '../../src/geometry';
import {
  isSideMatch,
  type Pattern,
  type PatternSize,
  type PatternWish,
  pattern,
  steps,
} from '../../src/leaves/match-patterns';
import { meetings } from '../../src/leaves/panel-joints';

/**
 * Matches by what they are: which of the panel's own symmetries carry the figure onto itself, whatever the wood. Definitions: Architectural Woodwork
 * Standards, 1st ed. 2009 (AWS), sections beside each.
 */

type Map = Affine<'panel', 'panel'>;
const [W, H] = [420, 740];
const size = (n: number, rows = 1): PatternSize => ({
  width: W,
  height: H,
  lines: steps(0, W, n),
  rows: steps(0, H, rows),
});
const make = (wish: Partial<PatternWish> & Pick<PatternWish, 'match'>, n = 2, rows = 1): Pattern =>
  pattern({ ends: 'book', count: n, ...wish }, size(n, rows));

/** Where in its leaf the wood lies that shows at a point of the panel: the leaf as the first cell would show it. */
function source({ cells }: Pattern, p: Point<'panel'>): Point<'panel'> | null {
  const cell = cells.find(({ polygon }) => contains(polygon, p));
  return cell ? apply(invert(cell.carry), p) : null;
}
const inside = fc.tuple(
  fc.double({ min: 0.5, max: W - 0.5, noNaN: true }),
  fc.double({ min: 0.5, max: H - 0.5, noNaN: true }),
);

/** Whether a motion of the panel leaves what is seen as it was, wherever both places lie on the panel. */
function keeps(of: Pattern, motion: Map): boolean {
  let ok = true;
  fc.assert(
    fc.property(inside, (xy) => {
      const p: Point<'panel'> = xy;
      const q = apply(motion, p);
      if (q[0] <= 0 || q[0] >= W || q[1] <= 0 || q[1] >= H) return;
      const [a, b] = [source(of, p), source(of, q)];
      if (a && b && Math.hypot(a[0] - b[0], a[1] - b[1]) > 1e-6) ok = false;
    }),
    { numRuns: 200 },
  );
  return ok;
}
const at = (m: Map['m']): Map => ({ m });
const UPRIGHT = (x: number) => at([-1, 0, 0, 1, 2 * x, 0]);
const LEVEL = (y: number) => at([1, 0, 0, -1, 0, 2 * y]);
const HALF_TURN = (x: number, y: number) => at([-1, 0, 0, -1, 2 * x, 2 * y]);
const SHIFT = (x: number, y = 0) => at([1, 0, 0, 1, x, y]);
const TURN = (degrees: number): Map => {
  const t = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(t), Math.sin(t)];
  return at([c, s, -s, c, W / 2 - (c * W) / 2 + (s * H) / 2, H / 2 - (s * W) / 2 - (c * H) / 2]);
};
const w = W / 4;

/** Motions of the panel, by name, and which of them each match has. */
const MOTIONS: Readonly<Record<string, Map>> = {
  'mirror in the first joint': UPRIGHT(w),
  'mirror in the middle': UPRIGHT(W / 2),
  'shift by one leaf': SHIFT(w),
  'shift by two leaves': SHIFT(2 * w),
  'half turn in the first joint': HALF_TURN(w, H / 2),
};
const HAS = {
  // AWS App. B p. 561: every other leaf turned over, neighbours mirror each other at the joint.
  book: ['mirror in the first joint', 'mirror in the middle', 'shift by two leaves'],
  // AWS App. B p. 561: laid in sequence without turning, the figure repeats.
  slip: ['shift by one leaf', 'shift by two leaves'],
  // Millwork glossary: every other leaf of a slip match turned end for end.
  'reverse slip': ['shift by two leaves', 'half turn in the first joint'],
  // AWS 4-1.2.20.3: halves laid in slip, booked at the centre.
  'slip centre book': ['mirror in the middle'],
} as const;

describe('what each match keeps', () => {
  test.each(Object.entries(HAS))('%s of four leaves has just these motions: %j', (match, motions) => {
    const of = make({ match: match as PatternWish['match'] }, 4);
    const has = Object.keys(MOTIONS).filter((name) => keeps(of, MOTIONS[name] as Map));
    expect(has).toEqual(Object.keys(MOTIONS).filter((name) => (motions as readonly string[]).includes(name)));
  });

  test.each(['four-piece', 'diamond', 'reverse diamond'] as const)('%s has the two mirrors of a rectangle', (match) => {
    const of = make({ match });
    for (const motion of [UPRIGHT(W / 2), LEVEL(H / 2), HALF_TURN(W / 2, H / 2)]) expect(keeps(of, motion)).toBe(true);
    expect(keeps(of, SHIFT(W / 2))).toBe(false);
    expect(of.cells).toHaveLength(4);
  });

  test('a diamond leans towards the middle above and a reverse diamond away from it, along the quarter', () => {
    const lean = (Math.atan2(W, H) * 180) / Math.PI;
    expect([make({ match: 'diamond' }).lean, make({ match: 'reverse diamond' }).lean]).toEqual([lean, -lean]);
  });

  test('a radial match of n wedges, n even, has the motions of a regular polygon of n/2 sides; with n odd its turns alone (AWS 4-1.2.22.1)', () => {
    for (const n of [4, 6, 8]) {
      const of = make({ match: 'radial' }, n);
      expect(keeps(of, TURN(720 / n))).toBe(true);
      expect(keeps(of, TURN(360 / n))).toBe(false);
      expect(keeps(of, UPRIGHT(W / 2))).toBe(true);
    }
    expect(keeps(make({ match: 'radial' }, 5), TURN(72))).toBe(true);
    expect(keeps(make({ match: 'radial' }, 5), UPRIGHT(W / 2))).toBe(false);
  });

  test('a herringbone mirrors in its column joint and repeats down a column', () => {
    const of = make({ match: 'herringbone', count: 5 });
    expect(of.lean).toBe(45);
    expect(keeps(of, UPRIGHT(W / 2))).toBe(true);
    expect(keeps(of, SHIFT(0, (H + W / 2) / 5))).toBe(true);
    expect(keeps(of, SHIFT(0, 100))).toBe(false);
  });

  test('end matches: booked rows mirror in the joint (AWS 4-1.2.21.1, .2), butted rows repeat', () => {
    for (const ends of ['book', 'alternating'] as const) {
      const of = make({ match: 'book', ends }, 2, 2);
      expect(keeps(of, LEVEL(H / 2))).toBe(true);
      expect(keeps(of, UPRIGHT(W / 2))).toBe(true);
    }
    const butted = make({ match: 'book', ends: 'butt' }, 2, 2);
    expect([keeps(butted, LEVEL(H / 2)), keeps(butted, SHIFT(0, H / 2))]).toEqual([false, true]);
    const order = (ends: PatternWish['ends']) =>
      make({ match: 'book', ends }, 2, 2).cells.map(({ polygon }) => centroid(polygon).map((x) => Math.round(x)));
    // Side to side first, or end to end first.
    expect([order('book')[1], order('alternating')[1]]).toEqual([
      [315, 185],
      [105, 555],
    ]);
  });
});

describe('cells and joints', () => {
  const all = [
    ...(['book', 'slip', 'reverse slip', 'slip centre book', 'random'] as const).map((match) => make({ match }, 4, 2)),
    ...(['four-piece', 'diamond', 'reverse diamond'] as const).map((match) => make({ match })),
    ...[3, 5, 6, 12].map((n) => make({ match: 'radial' }, n)),
    make({ match: 'herringbone', count: 4 }, 3),
  ];

  test('cells cover the panel once, and each carry keeps lengths', () => {
    for (const of of all) {
      const area = of.cells.reduce((sum, { polygon }) => sum + ringArea(polygon), 0);
      expect(area).toBeCloseTo(W * H, 0);
      for (const { carry } of of.cells) {
        const [a, b, c, d] = carry.m;
        expect(Math.abs(a * d - b * c)).toBeCloseTo(1, 9);
        expect(a * c + b * d).toBeCloseTo(0, 9);
        expect(compose(carry, invert(carry)).m[0]).toBeCloseTo(1, 9);
      }
    }
  });

  test('where booked cells meet, both show the same wood along the whole joint, one mirrored', () => {
    for (const match of ['book', 'four-piece', 'diamond', 'reverse diamond', 'radial'] as const) {
      const of = make({ match }, 6);
      const joints = meetings(of.cells.map(({ polygon }) => polygon));
      expect(joints.length).toBeGreaterThanOrEqual(isSideMatch(match) ? 5 : 4);
      for (const { cells, line } of joints) {
        const [i, j] = cells.map((k) => of.cells[k] as Pattern['cells'][number]) as [
          Pattern['cells'][number],
          Pattern['cells'][number],
        ];
        for (const p of line) {
          const [a, b] = [apply(invert(i.carry), p), apply(invert(j.carry), p)];
          expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(0.02);
        }
      }
    }
  });
});
