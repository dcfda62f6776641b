import type { Strip, Top } from '../job';
import { slabKey } from '../job';
import { type Control, stage } from '../search';
import type { Choice } from './choose';
import { freeStock, type Ground, topOf } from './ground';
import type { KeptPlaces } from './kept-places';
import type { KnownSeams } from './known-seams';
import { boundPairs, type PairBound } from './pair-bound';
import { idsOf } from './runs';
import { searchedTop } from './sawn';
import { candidateOf, type FoundPlaces, pairOf, type SeamSearch, type SeamTask } from './seam-task';
import type { FaceStock } from './stock';
import { slabKeyOf, slabsOf, type Valuer } from './worth';

/** Searches between one choice and the next: as many whatever the number of workers, so that the answer is the same. */
const ROUND = 6;
/** Of one top in a round, so many. */
const OF_TOP = 2;
/** Once no search that is left could raise the worth of the plan by more than this share, all tops together, no more are made. */
const WORTH_A_SEARCH = 0.005;
/** The same of looks along seams that are known, which cost little. */
const WORTH_A_LOOK = 0.002;
/** How much less likely each step between two slabs in their log makes a good seam: only the order of looking comes from it. */
const STEP_APART = 20;

/** Everything the rounds work with. */
export interface Rounds {
  readonly ground: Ground;
  readonly kept: KeptPlaces;
  readonly valuer: Valuer;
  readonly search: SeamSearch;
  /** Seams found so far. */
  readonly seams: KnownSeams;
  /** What is taken from the beginning: locked places. */
  readonly taken: readonly Strip[];
}

const isSeen = ({ stock }: Ground, faces: SeamTask['faces']): boolean =>
  stock.every(({ key, picture }) => !faces.includes(key) || picture !== null);

/** Carries tasks out and puts what they found among the places. */
export async function carryOut(
  { ground, kept, search, seams }: Rounds,
  tasks: readonly SeamTask[],
  control: Control,
): Promise<void> {
  const found = await search(tasks, control);
  tasks.forEach(({ top, faces }, i) => {
    const { placements, unfit, seams: lines } = found[i] as FoundPlaces;
    // Without pictures a seam is one by shape alone, and between two live edges it lies where these are: neither tells of others.
    if (isSeen(ground, faces) && topOf(ground, top).back !== 'live') seams.add(faces, lines);
    if (placements.length > 0) kept.lookedAt(top, pairOf({ faces }));
    kept.add(
      top,
      placements.flatMap((placement) => candidateOf(placement, ground) ?? []),
      unfit,
    );
  });
}

/** The pairs that could give the tops a seam, the most promising first. @param groups copies of each top */
export function promisingPairs(
  groups: readonly (readonly Top[])[],
  { ground, valuer, taken }: Pick<Rounds, 'ground' | 'valuer' | 'taken'>,
): PairBound[] {
  const { job } = ground;
  const firsts = groups.flatMap(([top]) => (top ? [searchedTop(top)] : []));
  const pairs = boundPairs(firsts, freeStock(ground, taken), job.shop.seam.angle, valuer).map(
    (pair): PairBound => ({
      ...pair,
      most: new Map(
        groups.flatMap((copies) => {
          const most = pair.most.get(copies[0]?.id ?? '');
          return most === undefined ? [] : copies.map(({ id }) => [id, most] as const);
        }),
      ),
    }),
  );
  const promise = ({ faces, most, apart }: PairBound): number => {
    const cost = faces.reduce((sum, face) => sum + valuer.charge(face), 0);
    return Math.max(...most.values()) - cost - STEP_APART * Math.min(apart, 5);
  };
  return pairs
    .map((pair) => ({ pair, promise: promise(pair) }))
    .sort((a, b) => b.promise - a.promise)
    .map(({ pair }) => pair);
}

/** By how much a place of a top on a pair could raise a choice at most: its own worth goes, the slabs that only it opens are given back. */
export function couldRaise({ candidates }: Choice, pair: PairBound, top: Top, valuer: Valuer): number {
  const most = pair.most.get(top.id);
  if (most === undefined) return 0;
  const ids = idsOf(top);
  const [now, others] = [true, false].map((own) => candidates.filter((one) => ids.includes(one.top.id) === own));
  const open = new Set(others?.flatMap(({ stock }) => stock.map(slabKeyOf)));
  const cost = (faces: readonly FaceStock[]): number =>
    slabsOf(faces)
      .filter((face) => !open.has(slabKeyOf(face)))
      .reduce((sum, face) => sum + valuer.charge(face), 0);
  const worth = (now ?? []).reduce((sum, one) => sum + valuer.value(one), 0);
  return Math.max(0, most - cost(pair.faces) - (worth - cost((now ?? []).flatMap(({ stock }) => stock))));
}

/** A pair one way round, for one top. */
interface Way {
  readonly pair: PairBound;
  readonly faces: readonly [FaceStock, FaceStock];
  readonly top: Top;
}

const waysOf = (groups: readonly (readonly Top[])[], pairs: readonly PairBound[]): Way[] =>
  pairs.flatMap((pair) =>
    groups.flatMap(([top]): Way[] => {
      if (!top || !pair.most.has(top.id)) return [];
      const [a, b] = pair.faces;
      return [
        { pair, faces: [a, b], top },
        { pair, faces: [b, a], top },
      ];
    }),
  );

/** What the other tops of a choice take of the slabs of a pair. */
function takenBeside({ candidates }: Choice, top: Top, faces: Way['faces']): Strip[] {
  const ids = idsOf(top);
  const slabs = faces.map(slabKeyOf);
  return candidates
    .filter((one) => !ids.includes(one.top.id))
    .flatMap(({ placement }) => placement.strips)
    .filter(({ flitch, slab }) => slabs.includes(slabKey(flitch, slab)));
}

/** A task, and by how much what it finds could raise the choice. */
interface Worth {
  readonly task: SeamTask;
  readonly raise: number;
}

/** Tells tasks apart: lines that are known may become more, and are not looked along again for that. */
const nameOf = ({ faces, top, taken, known }: SeamTask): string =>
  JSON.stringify([faces, top, taken, known !== undefined]);

/** By how much the best of some tasks could raise a choice at most, all tops together. */
function couldGain(tasks: readonly Worth[]): number {
  const most = new Map<string, number>();
  for (const { task, raise } of tasks) most.set(task.top, Math.max(raise, most.get(task.top) ?? 0));
  return [...most.values()].reduce((sum, raise) => sum + raise, 0);
}

/** Those that are carried out together: of two tops on the same slabs the longer is searched for, and the shorter then only looked for along what that finds. */
function together(tasks: readonly Worth[], { ground }: Rounds): SeamTask[] {
  const length = ({ top }: SeamTask): number => topOf(ground, top).length;
  const longest = new Map<string, SeamTask>();
  for (const { task } of tasks) {
    const other = longest.get(pairOf(task));
    if (!task.known && (!other || length(task) > length(other))) longest.set(pairOf(task), task);
  }
  return [...tasks]
    .sort((a, b) => b.raise - a.raise)
    .map(({ task }) => task)
    .filter((task) => task.known || longest.get(pairOf(task)) === task)
    .slice(0, ROUND);
}

/**
 * Looks at the seams of a plan that was made by shape alone; then searches the pairs for seams, a round at a time, until none that is left is worth
 * its time, in the wood that the other tops of the best plan so far leave, so that what is found goes with them. For one top that is proof: no pair
 * left out can give a plan that is better by more than the share that counts as worthwhile. For several it is so for each of them with the others
 * where they are.
 * @param groups copies of each top, of which the first is searched for
 * @param chosen makes the choice anew after each round, and tells it
 * @throws Cancelled
 */
export async function searchRounds(
  rounds: Rounds,
  groups: readonly (readonly Top[])[],
  pairs: readonly PairBound[],
  first: Choice,
  chosen: () => Choice,
  control: Control,
): Promise<Choice> {
  const { valuer } = rounds;
  const done = new Set<string>();
  const ways = waysOf(groups, pairs);
  const tops = groups.flat();
  let choice = first;
  /** Worth of the choice before the last round of looks along known seams alone: each finds less than the one before. */
  let looked = -Infinity;
  while (control.budget.left > 0) {
    const isNew = (task: SeamTask | null): task is SeamTask => task !== null && !done.has(nameOf(task));
    let next: Worth[] = unseen(rounds, choice, tops).flatMap((tasks) => {
      const task = tasks.find(isNew);
      return task ? [{ task, raise: 0 }] : [];
    });
    if (next.length === 0) {
      const raise = ({ pair, top }: Way): number => {
        const copies = groups.find(([one]) => one?.id === top.id) ?? [];
        return Math.max(0, ...copies.map((one) => couldRaise(choice, pair, one, valuer)));
      };
      const ranked = ways
        .map((way) => ({ way, raise: raise(way) }))
        .filter((of) => of.raise > 0)
        .sort((a, b) => b.raise - a.raise - STEP_APART * (b.way.pair.apart - a.way.pair.apart));
      next = groups.flatMap(([top]) => {
        const own = ranked.filter(({ way }) => way.top === top);
        return firstOf(own, OF_TOP, (of) => {
          const task = tasksOf(rounds, choice, of.way).find(isNew);
          return task ? { task, raise: of.raise } : null;
        });
      });
      if (couldGain(next) <= WORTH_A_SEARCH * choice.value) {
        next = next.filter(({ task }) => task.known);
        const least = WORTH_A_LOOK * choice.value;
        if (couldGain(next) <= least || choice.value - looked <= least) break;
        looked = choice.value;
      }
    }
    const tasks = together(next, rounds);
    const share = (count: number): number => count / (count + ways.length);
    await carryOut(rounds, tasks, stage(control, share(done.size), share(done.size + tasks.length)));
    for (const task of tasks) done.add(nameOf(task));
    choice = chosen();
  }
  return choice;
}

/** The first of `items`, so many, that `make` makes something of. */
function firstOf<T, Made>(items: readonly T[], most: number, make: (item: T) => Made | null): Made[] {
  const made: Made[] = [];
  for (const item of items) {
    if (made.length === most) break;
    const one = make(item);
    if (one !== null) made.push(one);
  }
  return made;
}

/**
 * What is to be searched for a way: along seams that are known of its faces, and without such, or where they give a top no place, all over. In what
 * the other tops leave, or for a top that has no place beside them in all wood; nothing where it has no room.
 */
function tasksOf(rounds: Rounds, choice: Choice, way: Way): SeamTask[] {
  const { faces, top } = way;
  const [a, b] = faces;
  const ids = idsOf(top);
  const placed = choice.candidates.some((one) => ids.includes(one.top.id));
  const others = takenBeside(choice, top, faces);
  const taken = others.length === 0 || hasRoom(rounds, way, others) ? [...rounds.taken, ...others] : null;
  if (!taken && placed) return [];
  return tasksFor(rounds, { faces: [a.key, b.key], top: top.id, taken: taken ?? rounds.taken }, !placed);
}

/** A task as it is carried out. @param anyhow all over the wood, too, where seams are known already */
function tasksFor({ seams }: Rounds, task: SeamTask, anyhow: boolean): SeamTask[] {
  const known = seams.of(task.faces);
  return known.length === 0 ? [task] : anyhow ? [{ ...task, known }, task] : [{ ...task, known }];
}

/** Whether a pair could give a top at all in what others leave of it. */
function hasRoom({ ground, valuer, taken }: Rounds, { faces, top }: Way, others: readonly Strip[]): boolean {
  const keys = faces.map(({ key }) => key);
  const free = freeStock(ground, [...taken, ...others]).filter(({ key }) => keys.includes(key));
  return boundPairs([searchedTop(top)], free, ground.job.shop.seam.angle, valuer).length > 0;
}

/** Searches for each of those places of a choice whose seam nobody has looked at, in the wood that its other places leave. */
function unseen(rounds: Rounds, choice: Choice, tops: readonly Top[]): SeamTask[][] {
  const { taken } = rounds;
  return tops.flatMap((top): SeamTask[][] => {
    const ids = idsOf(top);
    const place = choice.candidates.find((one) => ids.includes(one.top.id));
    const [front, back, ...more] = place?.placement.strips ?? [];
    if (!place || !front || !back || more.length > 0 || place.placement.joints[0]?.blend !== null) return [];
    const [a, b] = place.stock as [FaceStock, FaceStock];
    const others = takenBeside(choice, top, [a, b]);
    // On faces without pictures nothing more can be seen.
    if (!a.picture || !b.picture || a.slab === b.slab) return [];
    return [tasksFor(rounds, { faces: [a.key, b.key], top: top.id, taken: [...taken, ...others] }, true)];
  });
}
