import { describe, expect, test } from 'vitest';
import { bestRow, type Candidate, type RowRules } from '../../src/keys/search-row';
import { seededRandom } from '../../src/search';
import { everyRow } from '../support/brute-row';

/** A crack by chance: its length, two or three sizes of key, and places left over between things that are in the way. */
function randomCrack(seed: number): { candidates: Candidate[]; rules: RowRules } {
  const random = seededRandom(seed).next;
  const length = 150 + 900 * random();
  const keys = [45, 65, 90].slice(0, 1 + Math.floor(3 * random()));
  const mean = (a: number, b: number) => ((keys[a] as number) + (keys[b] as number)) / 2;
  const [least, most] = [1 + random(), 2 + 1.5 * random()];
  const tip = keys.map((key) => Math.min(length / 2, key * (0.5 + random())));
  const bent = random() < 0.2;
  const grade = random() < 0.3 ? 0.4 : 0;
  const candidates = Array.from({ length: 16 }, (): Candidate => {
    const size = Math.floor(keys.length * random());
    const first = tip[size] as number;
    // Every third place at a tip or on a round figure, so that rows are alike in all but their last measure.
    const s = random() < 0.3 ? first : first + (length - 2 * first) * (Math.round(24 * random()) / 24);
    return { s, u: s + grade * 50 * Math.sin(s / 80), size, misfit: random() < 0.7 ? 0 : Math.floor(3 * random()) };
  }).sort((a, b) => a.s - b.s);
  return {
    candidates,
    rules: {
      length,
      tip,
      mostToTip: tip.map((d, i) => d + (keys[i] as number) * 1.5),
      least: (a, b) => least * mean(a, b),
      most: (a, b) => most * mean(a, b),
      apart: (a, b) => !bent || Math.abs(a.s - length / 2) > 40 || b.s - a.s > 130,
      odd: random() < 0.3,
    },
  };
}

describe('the best row along a crack', () => {
  test('is that of every row there is, on 200 cracks drawn by chance', () => {
    let most = 0;
    for (let seed = 1; seed <= 200; seed++) {
      const { candidates, rules } = randomCrack(seed);
      const { best, rows } = everyRow(candidates, rules);
      const found = bestRow(candidates, rules);
      most = Math.max(most, rows);
      expect({ seed, any: found !== null }).toEqual({ seed, any: best !== null });
      if (!found || !best) continue;
      expect({ seed, count: found.cost.count }).toEqual({ seed, count: best.cost.count });
      for (const part of ['over', 'misfit', 'shift', 'value'] as const)
        expect(found.cost[part], `${part} of crack ${seed}`).toBeCloseTo(best.cost[part], 5);
      expect(found.keys).toHaveLength(found.cost.count);
    }
    expect(most).toBeGreaterThan(500);
  });

  test('of no place is none', () => {
    expect(bestRow([], randomCrack(1).rules)).toBeNull();
  });
});
