import loadHighs from 'highs';
import { type FoundPlaces, groundOf, type SeamSearch, type SeamSlab, seamTask, searchSeams } from '../../src/layout';
import { proposals } from '../../src/plan';
import { unwatched } from '../../src/search';
import { helixFace, rectangleOf } from '../support/helix-log';
import { sixSlabs } from '../support/six-slabs';

/** Six slabs and four tops in one plan, beside the search for one seam between two such slabs. */

const seconds = async (work: () => Promise<unknown>): Promise<number> => {
  const { user, system } = process.cpuUsage();
  await work();
  const now = process.cpuUsage();
  return (now.user + now.system - user - system) / 1e6;
};

const SIZE = { width: 2600, height: 480, y0: -240 };
const slab = (id: string, z: number): SeamSlab => ({
  id,
  picture: helixFace(z, SIZE),
  outline: rectangleOf(SIZE.width, SIZE.height),
  defects: [],
});
const question = {
  slabs: [slab('front', -90), slab('back', -30)] as const,
  top: { length: 2200, depth: [500, 600] as [number, number], front: 'straight' as const },
  kerf: 3,
  leastStrip: 100,
  slide: 150,
  angle: 1,
  ends: 'same' as const,
};
let evaluated = 0;
const pair = await seconds(async () => {
  ({ evaluated } = await searchSeams(question, unwatched()));
});

const { job, pictures } = sixSlabs();
const ground = groundOf(job, pictures);
/** Seconds of each search of a pair all over, and of each look along seams that are known of it. */
const spent: { readonly all: number[]; readonly along: number[] } = { all: [], along: [] };
const search: SeamSearch = async (tasks, control) => {
  const found: FoundPlaces[] = [];
  for (const task of tasks) {
    const took = await seconds(async () => found.push(await seamTask(task, ground, control)));
    spent[task.known ? 'along' : 'all'].push(took);
  }
  return found;
};
const mean = (of: readonly number[]): string => (of.reduce((a, b) => a + b, 0) / Math.max(1, of.length)).toFixed(1);
const highs = await loadHighs();
const begun = process.cpuUsage().user;
let first = 0;
let gap = 0;
let placed = 0;
const all = await seconds(async () => {
  const heard = () => {
    first ||= (process.cpuUsage().user - begun) / 1e6;
  };
  const [plan] = await proposals(job, pictures, highs, unwatched(), { heard, search });
  gap = plan?.gap ?? 1;
  placed = Object.keys(plan?.placements ?? {}).length;
});
console.log(`one pair, 2.2 m: ${pair.toFixed(1)} s of one core, ${evaluated} full evaluations (to reach: 3 s)`);
console.log(
  `six slabs, four tops: first plan ${first.toFixed(1)} s, all ${all.toFixed(1)} s of one core (to reach: 20 s), as long as ${(all / pair).toFixed(1)} such pairs; ${placed} placed, gap ${(100 * gap).toFixed(1)} %`,
);
console.log(
  `of it ${spent.all.length} pairs searched in ${mean(spent.all)} s each, a further top on them in ${mean(spent.along)} s (to reach: 0.5 s), ${spent.along.length} times; most memory ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MiB (to reach: 1024)`,
);
