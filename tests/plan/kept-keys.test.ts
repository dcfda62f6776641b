import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rectangle } from '../../src/geometry';
import type { Job, Placement, Plan, SetKey } from '../../src/job';
import { plansWithKeys } from '../../src/plan';
import { wavyJob } from '../support/wavy-slabs';

/** A slab with a straight crack along it, and beyond that a second one. */
const [FROM, TO] = [700, 1300];
const SECOND = [2000, 2400] as const;
const [LENGTH, DEPTH] = [1600, 300];

const job = wavyJob([{ length: 2600, width: 480, swing: 4, thickness: 54 }], {
  length: LENGTH,
  depth: [DEPTH, DEPTH],
  front: 'straight',
  thickness: 38,
  seams: 0,
});
const slab = job.flitches.log!.slabs['slab-1']!;
for (const [id, [a, b]] of Object.entries({ d1: [FROM, TO] as const, d2: SECOND }))
  slab.faces.top.defects[id] = {
    id,
    kind: 'crack',
    permit: 'keyed',
    line: [
      [a, 240, 1],
      [b, 240, 1],
    ],
  };

/** The top from so far along its slab; turned end for end or not. */
function laid(x: number, turned: boolean, face: 'top' | 'bottom' = 'top'): Placement {
  const y = 90;
  return {
    top: 'counter',
    strips: [
      {
        flitch: 'log',
        slab: 'slab-1',
        face,
        toTop: turned ? [-1, 0, 0, -1, x + LENGTH, y + DEPTH] : [1, 0, 0, 1, -x, -y],
        finished: rectangle(x, y, x + LENGTH, y + DEPTH),
        rough: rectangle(x - 10, y - 10, x + LENGTH + 10, y + DEPTH + 10),
        jointFront: null,
        jointBack: null,
      },
    ],
    joints: [],
    depth: [DEPTH, DEPTH],
    thickness: 38,
  };
}

const planOf = (id: string, placement: Placement): Plan => ({
  id,
  name: id,
  placements: { counter: placement },
  misses: [],
  waste: 0,
  cost: null,
  gap: 0,
});

/** Before: from 200, so that the left tip of the crack is the one at its far end, 1300 along the slab. */
const X = 200;
const set = (alongs: readonly number[]): SetKey[] =>
  alongs.map((along) => ({ crack: 'slab-1-d1', along, size: 'medium', face: 'top', turn: 3 }));

function laidAgain(keys: readonly SetKey[], after: Placement) {
  const before: Job = { ...job, plans: { old: planOf('old', { ...laid(X, false), keys: [...keys] }) } };
  const { plans, words } = plansWithKeys(before, 'old', [planOf('new', after)]);
  return { keys: plans[0]!.placements.counter!.keys, words };
}

describe('keys that were set by hand', () => {
  test('stay at their place in the wood wherever the top is laid, and those cut off are counted in words', () => {
    const cases = fc.record({
      x: fc.integer({ min: 60, max: 900 }),
      turned: fc.boolean(),
      alongs: fc.uniqueArray(fc.integer({ min: 5, max: 595 }), { minLength: 1, maxLength: 5 }),
    });
    fc.assert(
      fc.property(cases, ({ x, turned, alongs }) => {
        const { keys, words } = laidAgain(set(alongs), laid(x, turned));
        const places = alongs.map((along) => TO - along).filter((at) => Math.abs(at - x) > 2);
        fc.pre(places.length === alongs.length);
        const inside = places.filter((at) => at > x);
        const tip = turned ? Math.max(FROM, x) : TO;
        const own = keys!.filter(({ crack }) => crack === 'slab-1-d1');
        const found = own.map(({ along }) => (turned ? tip + along : tip - along));
        expect(found.map(Math.round)).toEqual(inside);
        for (const { size, face, turn } of own) expect([size, face, turn]).toEqual(['medium', 'top', 3]);
        const lost = alongs.length - inside.length;
        expect(words.length).toBe(lost > 0 ? 1 : 0);
        if (lost > 1) expect(words[0]).toContain(`${lost} keys`);
        // A crack that comes into the top anew gets the keys that are proposed for it.
        const fresh = keys!.filter(({ crack }) => crack === 'slab-1-d2');
        const shown = x + LENGTH - SECOND[0];
        // Of a short piece it depends on the rules whether one fits.
        if (shown <= 0 || shown > 200) expect(fresh.length > 0).toBe(shown > 0);
      }),
      { numRuns: 40 },
    );
  });

  test('and a crack that was cleared of its keys stays without', () => {
    expect(laidAgain([], laid(X, true)).keys).toEqual([]);
  });

  test('are all gone where the crack is not in the top, which then has keys as proposed; and that is said', () => {
    const { keys, words } = laidAgain(set([100, 400]), laid(X, false, 'bottom'));
    expect(keys).toBeUndefined();
    expect(words).toEqual([expect.stringContaining('2 keys that you had set on ')]);
  });

  test('of a top that is locked stay as they are', () => {
    const keys = set([20]);
    expect(laidAgain(set([300]), { ...laid(X, false), keys }).keys).toEqual(keys);
  });
});
