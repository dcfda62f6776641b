import fc from 'fast-check';
import loadHighs from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Candidate, type ChoiceInput, type Highs, solveChoice } from '../../src/search';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

/** The best worth by trying every subset. */
function exhaustive({ candidates, conflicts, charges = [] }: ChoiceInput): number {
  let best = 0;
  for (let bits = 0; bits < 1 << candidates.length; bits++) {
    const chosen = candidates.flatMap((c, i) => (bits & (1 << i) ? [c] : []));
    // One that stands in a group twice is still one of it.
    const groups = chosen.flatMap((c) => [...new Set(c.groups)]);
    const clash = conflicts.some(([i, j]) => i !== j && bits & (1 << i) && bits & (1 << j));
    if (new Set(groups).size < groups.length || clash) continue;
    const paid = charges.filter((one) => one.candidates.some((i) => bits & (1 << i)));
    const value = chosen.reduce((sum, c) => sum + c.value, 0) - paid.reduce((sum, c) => sum + c.charge, 0);
    best = Math.max(best, value);
  }
  return best;
}

const candidate: fc.Arbitrary<Candidate> = fc.record({
  value: fc.integer({ min: -3, max: 20 }),
  groups: fc.array(fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f', 'g'), { minLength: 1, maxLength: 2 }),
});
const input: fc.Arbitrary<ChoiceInput> = fc.array(candidate, { minLength: 1, maxLength: 11 }).chain((candidates) => {
  const index = fc.nat(candidates.length - 1);
  return fc.record({
    candidates: fc.constant(candidates),
    conflicts: fc.array(fc.tuple(index, index), { maxLength: 14 }),
    charges: fc.array(
      fc.record({ charge: fc.integer({ min: 0, max: 15 }), candidates: fc.uniqueArray(index, { maxLength: 6 }) }),
      { maxLength: 4 },
    ),
  });
});

describe('choosing among candidates that exclude each other', () => {
  it('is worth as much as the best of all subsets, and keeps groups and conflicts', () => {
    fc.assert(
      fc.property(input, (given) => {
        const { chosen, value, gap } = solveChoice(highs, given);
        expect(value).toBeCloseTo(exhaustive(given), 6);
        expect(gap).toBe(0);
        const groups = chosen.flatMap((i) => [...new Set(given.candidates[i]?.groups)]);
        expect(new Set(groups).size).toBe(groups.length);
        for (const [i, j] of given.conflicts) expect(i !== j && chosen.includes(i) && chosen.includes(j)).toBe(false);
      }),
      { numRuns: 150 },
    );
  });

  it('gives the greedy trap its due: two lesser ones beat the one that excludes both', () => {
    const candidates = [
      { value: 5, groups: ['a'] },
      { value: 4, groups: ['b'] },
      { value: 4, groups: ['c'] },
    ];
    const { chosen, value } = solveChoice(highs, {
      candidates,
      conflicts: [
        [0, 1],
        [0, 2],
      ],
    });
    expect({ chosen, value }).toEqual({ chosen: [1, 2], value: 8 });
  });

  it('charges what several open together only once', () => {
    const candidates = [
      { value: 5, groups: ['a'] },
      { value: 5, groups: ['b'] },
      { value: 6, groups: ['b'] },
    ];
    const charges = [
      { charge: 4, candidates: [0, 1] },
      { charge: 4, candidates: [2] },
    ];
    const { chosen, value } = solveChoice(highs, { candidates, conflicts: [], charges });
    expect({ chosen, value }).toEqual({ chosen: [0, 1], value: 6 });
  });

  it('says how far from proven it is when its work is limited', () => {
    // A five-ring of equal worth: the relaxed program says 2.5, the truth is 2; odd rings in bulk need branching.
    const rings = 12;
    const candidates = Array.from({ length: rings * 5 }, (_, i) => ({ value: 1 + (i % 7) / 100, groups: [`g${i}`] }));
    const conflicts = candidates.flatMap((_, i) => {
      const next = i % 5 === 4 ? i - 4 : i + 1;
      return [
        [i, next],
        [i, (i + 5) % candidates.length],
      ] as [number, number][];
    });
    const whole = solveChoice(highs, { candidates, conflicts });
    const cut = solveChoice(highs, { candidates, conflicts, nodes: 0 });
    expect(whole.gap).toBe(0);
    expect(cut.value).toBeLessThanOrEqual(whole.value + 1e-9);
    expect(cut.value * (1 + cut.gap)).toBeGreaterThanOrEqual(whole.value - 1e-6);
  });

  it('refuses values and pairs that mean nothing', () => {
    expect(() => solveChoice(highs, { candidates: [{ value: Number.NaN, groups: ['a'] }], conflicts: [] })).toThrow(
      RangeError,
    );
    expect(() => solveChoice(highs, { candidates: [{ value: 1, groups: ['a'] }], conflicts: [[0, 3]] })).toThrow(
      RangeError,
    );
    expect(() =>
      solveChoice(highs, {
        candidates: [{ value: 1, groups: ['a'] }],
        conflicts: [],
        charges: [{ charge: -1, candidates: [0] }],
      }),
    ).toThrow(RangeError);
  });
});
