import { defaultDoor } from '../../src/job';
import { frontsOf, layOutSet, prepareBench } from '../../src/leaves';
import { sheetsOf, sized } from '../../src/leaves/set-sheets';
import { WindowSearch } from '../../src/leaves/window-search';
import { laneFits } from '../../src/leaves/window-states';
import { unwatched, WorkBudget } from '../../src/search';
import { picturedLeaves, RULES } from '../leaves/bench-leaves';

/**
 * Leaves, as ratios in one run. One joint against every pair of windows of two leaves at 1 mm (to reach: within 1 %); twelve fronts from forty leaves, against the
 * time that reading the leaves takes, with the gap that is left (to reach: 5 %).
 */

/** Time of one core, ms. */
const clock = async <T>(work: () => Promise<T> | T): Promise<[T, number]> => {
  const start = process.cpuUsage();
  const made = await work();
  const { user, system } = process.cpuUsage(start);
  return [made, (user + system) / 1000];
};

/** Windows of two leaves in a book match: the search, and every pair of places along and across within the drift of figure. */
async function oneJoint(seed: number): Promise<void> {
  const leaves = picturedLeaves(2, { length: 330, width: 106, drift: [3, 2] }, 'board', seed);
  const bench = await prepareBench(leaves, { ...RULES, jointing: 0 }, unwatched());
  const door = { ...defaultDoor('d'), count: 1, width: 180, height: 312, trim: 0, leaves: 2, backed: false };
  const columns = () => ({ fewest: () => 2, broad: () => 90 });
  const [sheet] = sheetsOf(frontsOf([door]).map(sized), 'top', 330, columns, { jointing: 0, crosscut: 2.4 });
  if (!sheet) return;
  const task = { sheet, leaves: [0, 1], lane: { from: 0, to: 330 } };
  const budget = new WorkBudget();
  const search = new WindowSearch(bench, () => [], unwatched(budget));
  const [found, took] = await clock(() => search.fine(task));
  const looked = budget.spent;
  const places = (k: 0 | 1) => {
    const all: [number, number][] = [];
    for (let u = 0; u <= 18; u++) {
      for (let v = 0; v <= 16; v++) {
        const [leaf, slot] = [bench.leaves[k], sheet.slots[k]];
        if (leaf && slot && laneFits(leaf, slot, [u, v], task.lane, [])) all.push([u, v]);
      }
    }
    return all;
  };
  const [[least, pairs], every] = await clock((): [number, number] => {
    let [best, n] = [Infinity, 0];
    for (const a of places(0)) {
      for (const b of places(1)) {
        if (Math.abs(a[0] - b[0]) > 20 || Math.abs(a[1] - b[1]) > 12) continue;
        best = Math.min(best, search.exact(task, [a, b]));
        n++;
      }
    }
    return [best, n];
  });
  const over = (found?.cost ?? Infinity) - least;
  console.log(
    `one joint, board ${seed}: ${over.toFixed(4)} over the best of ${pairs} pairs, where uncut wood is 1 (to reach: 0.01), having looked at ${looked}; all of them take ${(every / took).toFixed(1)} times as long`,
  );
}

async function twelveFronts(): Promise<void> {
  const leaves = picturedLeaves(40, { length: 800, width: 215, drift: [4, 3] });
  const fronts = frontsOf([{ ...defaultDoor('d'), count: 12, width: 360, trim: 5, backed: false }]);
  const [bench, prepared] = await clock(() => prepareBench(leaves, RULES, unwatched()));
  // The pictures are read when the first joint is asked for.
  const [, read] = await clock(() =>
    layOutSet({ id: 'one', name: 'One', fronts: fronts.slice(0, 1) }, bench, unwatched()),
  );
  const [set, took] = await clock(() => layOutSet({ id: 'set', name: 'Set', fronts }, bench, unwatched()));
  console.log(
    `twelve fronts from forty leaves: gap ${(set.gap * 100).toFixed(1)} % (to reach: 5 %), ${Object.keys(set.fronts).length} laid, in ${(took / 1000).toFixed(1)} s (to reach: 20) after ${((prepared + read) / 1000).toFixed(1)} s of reading and laying out one: ${(took / (prepared + read)).toFixed(2)} times as long`,
  );
}

for (const seed of [1, 5, 9]) await oneJoint(seed);
await twelveFronts();
