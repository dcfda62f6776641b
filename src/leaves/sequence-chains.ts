/** Puts runs of leaves that belong together one behind the other, so that what meets is alike. */

/** Leaves by their places among all, in an order that is not doubted; it may be turned round as a whole. */
export type Chain = readonly number[];

/** More chains than this are put together one by one, the most alike ends first: all orders of them would be too many. */
const EXACT = 9;

/**
 * The chains in one row, some of them turned round, whose meeting ends are most alike in sum; rows as good as it but for a little are passed over for the one in which more stay as they were.
 * Exact by dynamic programming over sets (Held and Karp 1962) up to nine chains.
 * @param alike how alike two leaves are, -1..1
 */
export function chained(chains: readonly Chain[], alike: (a: number, b: number) => number): number[] {
  const row = chains.length <= EXACT ? exact(chains, alike) : greedy(chains, alike);
  // A row and its reverse meet alike: it runs the way in which most of it was numbered.
  const rising = row.slice(1).filter((leaf, i) => leaf > (row[i] as number)).length;
  return 2 * rising < row.length - 1 ? row.reverse() : row;
}

/** What stands as it was numbered counts for so much more likeness: what is no better elsewhere stays. */
const KEPT = 0.02;

const endsOf = (chain: Chain, turned: boolean): readonly [first: number, last: number] => {
  const [first, last] = [chain[0] as number, chain.at(-1) as number];
  return turned ? [last, first] : [first, last];
};
const meets = (alike: (a: number, b: number) => number, a: number, b: number): number =>
  alike(a, b) + (b - a === 1 ? 2 * KEPT : b > a ? KEPT : 0);

function exact(chains: readonly Chain[], alike: (a: number, b: number) => number): number[] {
  const n = chains.length;
  // State: which chains are laid, which one lies last and whether it is turned.
  const best = new Float64Array((1 << n) * n * 2).fill(-Infinity);
  const from = new Int32Array(best.length).fill(-1);
  const at = (set: number, last: number, turned: number) => (set * n + last) * 2 + turned;
  for (let k = 0; k < n; k++) for (const turned of [0, 1]) best[at(1 << k, k, turned)] = turned === 0 ? KEPT : 0;
  for (let set = 1; set < 1 << n; set++) {
    for (let last = 0; last < n; last++) {
      for (const turned of [0, 1]) {
        const state = at(set, last, turned);
        if (best[state] === -Infinity) continue;
        const [, end] = endsOf(chains[last] as Chain, turned === 1);
        for (let next = 0; next < n; next++) {
          if (set & (1 << next)) continue;
          for (const way of [0, 1]) {
            const [start] = endsOf(chains[next] as Chain, way === 1);
            const to = at(set | (1 << next), next, way);
            const sum = (best[state] as number) + meets(alike, end, start) + (way === 0 ? KEPT : 0);
            if (sum > (best[to] as number)) {
              best[to] = sum;
              from[to] = state;
            }
          }
        }
      }
    }
  }
  const all = (1 << n) - 1;
  let state = at(all, 0, 0);
  for (let last = 0; last < n; last++)
    for (const turned of [0, 1])
      if ((best[at(all, last, turned)] as number) > (best[state] as number)) state = at(all, last, turned);
  const row: number[][] = [];
  for (; state >= 0; state = from[state] as number) {
    const chain = chains[Math.floor(state / 2) % n] as Chain;
    row.unshift(state % 2 === 1 ? [...chain].reverse() : [...chain]);
  }
  return row.flat();
}

function greedy(chains: readonly Chain[], alike: (a: number, b: number) => number): number[] {
  let left: number[][] = chains.map((chain) => [...chain]);
  while (left.length > 1) {
    let best = { sum: -Infinity, i: 0, k: 1, turnI: false, turnK: false };
    for (let i = 0; i < left.length; i++) {
      for (let k = i + 1; k < left.length; k++) {
        for (const turnI of [false, true]) {
          for (const turnK of [false, true]) {
            const [, end] = endsOf(left[i] as Chain, turnI);
            const [start] = endsOf(left[k] as Chain, turnK);
            const sum = meets(alike, end, start);
            if (sum > best.sum) best = { sum, i, k, turnI, turnK };
          }
        }
      }
    }
    const laid = (chain: number[], turned: boolean) => (turned ? [...chain].reverse() : chain);
    const joined = [...laid(left[best.i] as number[], best.turnI), ...laid(left[best.k] as number[], best.turnK)];
    left = [...left.filter((_, i) => i !== best.i && i !== best.k), joined];
  }
  return left[0] ?? [];
}

/** Places in a row of numbers that are not in its longest rising part: what was put elsewhere (Schensted 1961). */
export function outOfOrder(row: readonly number[]): number[] {
  const length = new Array<number>(row.length).fill(1);
  const before = new Array<number>(row.length).fill(-1);
  row.forEach((value, i) => {
    for (let k = 0; k < i; k++) {
      if ((row[k] as number) < value && (length[k] as number) + 1 > (length[i] as number)) {
        length[i] = (length[k] as number) + 1;
        before[i] = k;
      }
    }
  });
  const rising = new Set<number>();
  let at = length.indexOf(Math.max(...length));
  for (; at >= 0 && row.length > 0; at = before[at] as number) rising.add(at);
  return [...row.keys()].filter((i) => !rising.has(i));
}
