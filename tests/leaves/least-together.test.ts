import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { defaultDoor, type Match } from '../../src/job';
import { frontsOf, prepareBench } from '../../src/leaves';
import { leastTogether } from '../../src/leaves/least-together';
import { sheetsOf, sized } from '../../src/leaves/set-sheets';
import { WindowSearch } from '../../src/leaves/window-search';
import { laneFits } from '../../src/leaves/window-states';
import { unwatched } from '../../src/search';
import { picturedLeaves, RULES } from './bench-leaves';

type Graph = readonly (readonly [number, number])[];
const ring = (n: number): Graph =>
  Array.from({ length: n }, (_, i) => [Math.min(i, (i + 1) % n), Math.max(i, (i + 1) % n)]);
const chain = (n: number): Graph => Array.from({ length: n - 1 }, (_, i) => [i, i + 1]);
/** Two rows of leaves, matched side by side and end to end. */
const ladder = (n: number): Graph => [
  ...chain(n),
  ...chain(n).map(([a, b]) => [a + n, b + n] as const),
  ...Array.from({ length: n }, (_, i) => [i, i + n] as const),
];
const GRAPHS = {
  chain: [5, chain(5)],
  ring: [5, ring(5)],
  ladder: [6, ladder(3)],
  twice: [3, [...chain(3), ...chain(3)]],
} as const;

describe('choices that cost something together', () => {
  test.each(Object.entries(GRAPHS))('%s: as good as the best of all choices', (_, [things, graph]) => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 3 }), { minLength: things, maxLength: things }),
        fc.infiniteStream(fc.integer({ min: -9, max: 99 })),
        (counts, stream) => {
          const next = () => stream.next().value as number;
          const own = counts.map((n) => Float64Array.from({ length: n }, next));
          const pairs = graph.map((of) => ({
            of,
            costs: Float32Array.from({ length: (counts[of[0]] as number) * (counts[of[1]] as number) }, next),
          }));
          const cost = (at: readonly number[]) =>
            own.reduce((sum, of, i) => sum + (of[at[i] as number] as number), 0) +
            pairs.reduce(
              (sum, { of: [a, b], costs }) =>
                sum + (costs[(at[a] as number) * (counts[b] as number) + (at[b] as number)] as number),
              0,
            );
          const all = counts.reduce<number[][]>(
            (ways, n) => ways.flatMap((way) => Array.from({ length: n }, (_x, i) => [...way, i])),
            [[]],
          );
          const held = counts.map(() => 0);
          expect(cost(leastTogether(own, pairs, held))).toBe(Math.min(...all.map(cost)));
        },
      ),
      { numRuns: 60 },
    );
  });

  test('where all meet three and more, no worse than what was held', () => {
    const graph: Graph = [
      [0, 1],
      [0, 2],
      [0, 3],
      [1, 2],
      [1, 3],
      [2, 3],
    ];
    const pairs = graph.map((of, i) => ({
      of,
      costs: Float32Array.from({ length: 9 }, (_, k) => ((k + 3) * (i + 5) * 37) % 23),
    }));
    const own = Array.from({ length: 4 }, () => new Float64Array(3));
    const cost = (at: readonly number[]) =>
      pairs.reduce(
        (sum, { of: [a, b], costs }) => sum + (costs[(at[a] as number) * 3 + (at[b] as number)] as number),
        0,
      );
    for (const held of [
      [0, 1, 2, 0],
      [2, 2, 1, 1],
    ])
      expect(cost(leastTogether(own, pairs, held))).toBeLessThanOrEqual(cost(held));
  });
});

describe('windows whose joints close to a ring', () => {
  const sizes: readonly [Match, number, number][] = [
    ['four-piece', 156, 192],
    ['diamond', 130, 130],
  ];

  test.each(sizes)('%s: all joints counted, no layout near is better', async (match, width, height) => {
    const leaves = picturedLeaves(4, { length: 120, width: 100, drift: [2, 3] });
    const bench = await prepareBench(leaves, { ...RULES, jointing: 1 }, unwatched());
    const front = {
      ...defaultDoor('d'),
      count: 1,
      width,
      height,
      trim: 0,
      match,
      leaves: match === 'radial' ? 6 : null,
      backed: false,
    };
    const columns = () => ({ fewest: () => 2, broad: () => 90 });
    const [sheet] = sheetsOf(frontsOf([front]).map(sized), 'top', 120, columns, { jointing: 1, crosscut: 2.4 });
    const task = { sheet: sheet!, leaves: sheet!.slots.map((_, i) => i), lane: { from: 0, to: 120 } };
    const search = new WindowSearch(bench, () => [], unwatched());
    const found = search.fine(task)!;
    expect(search.exact(task, found.at)).toBeCloseTo(found.cost, 6);
    const [rough] = search.rough(task);
    expect(found.cost).toBeLessThan(rough!.cost);
    // Any two windows moved by a few mm.
    for (const [i, j, du, dv, eu, ev] of [
      [0, 1, 1, 0, 0, 1],
      [1, 2, 0, -1, 0, 1],
      [0, 2, 2, 1, 0, -1],
      [0, 3, -1, 1, 1, 0],
      [2, 3, 0, 2, 0, 2],
    ] as const) {
      const at = found.at.map(([u, v], k) =>
        k === i ? ([u + du, v + dv] as const) : k === j ? ([u + eu, v + ev] as const) : ([u, v] as const),
      );
      const sound = at.every((place, k) => laneFits(bench.leaves[k]!, sheet!.slots[k]!, place, task.lane, []));
      if (sound) expect(search.exact(task, at)).toBeGreaterThanOrEqual(found.cost - 1e-6);
    }
  });
});
