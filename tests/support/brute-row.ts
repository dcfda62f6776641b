import type { Candidate, Cost, RowRules } from '../../src/keys/search-row';

/** Costs within so much are alike. */
const ALIKE = 1e-6;

const order = (a: Cost, b: Cost): number => {
  const steps = [a.over - b.over, a.misfit - b.misfit, a.shift - b.shift, a.count - b.count, a.value - b.value];
  return steps.find((d) => Math.abs(d) > ALIKE) ?? 0;
};

/** What a whole row costs, reckoned from its places alone. */
function costOf(keys: readonly Candidate[], rules: RowRules): Cost {
  const [first, last] = [keys[0], keys.at(-1)] as [Candidate, Candidate];
  const ends = [
    [first.s, first.size],
    [rules.length - last.s, last.size],
  ] as const;
  let [over, shift, value] = [0, 0, 0];
  for (const [d, size] of ends) {
    over += Math.max(0, d - (rules.mostToTip[size] as number));
    const moved = Math.max(0, d - (rules.tip[size] as number));
    shift += moved;
    value += moved * moved;
  }
  for (let i = 1; i < keys.length; i++) {
    const [a, b] = [keys[i - 1], keys[i]] as [Candidate, Candidate];
    const most = rules.most(a.size, b.size);
    const wide = b.s - a.s - most;
    over += Math.max(0, wide);
    value += wide > ALIKE ? most * most : (b.u - a.u) ** 2;
  }
  return { over, misfit: keys.reduce((sum, { misfit }) => sum + misfit, 0), shift, count: keys.length, value };
}

/** The best row found by going through every one that keeps the least distances; how many those are. */
export function everyRow(candidates: readonly Candidate[], rules: RowRules) {
  let [best, rows] = [null as { keys: Candidate[]; cost: Cost } | null, 0];
  const grow = (keys: Candidate[], from: number): void => {
    if (keys.length > 0) {
      rows++;
      const cost = costOf(keys, rules);
      if ((!rules.odd || keys.length % 2 === 1) && (!best || order(cost, best.cost) < 0))
        best = { keys: [...keys], cost };
    }
    for (let i = from; i < candidates.length; i++) {
      const [last, next] = [keys.at(-1), candidates[i] as Candidate];
      if (last && (next.s - last.s < rules.least(last.size, next.size) - ALIKE || !rules.apart(last, next))) continue;
      grow([...keys, next], i + 1);
    }
  };
  grow([], 0);
  return { best: best as { keys: Candidate[]; cost: Cost } | null, rows };
}
