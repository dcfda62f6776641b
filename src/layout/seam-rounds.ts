import type { Strip, Top } from '../job';
import { type Control, stage } from '../search';
import type { Choice } from './choose';
import { freeStock, type Ground } from './ground';
import type { KeptPlaces } from './kept-places';
import { boundPairs, type PairBound } from './pair-bound';
import { idsOf } from './runs';
import { searchedTop } from './sawn';
import { candidateOf, type FoundPlaces, type SeamSearch, type SeamTask } from './seam-task';
import type { FaceStock } from './stock';
import { slabKey, slabsOf, type Valuer } from './worth';

/** Pairs that are searched between one choice and the next: as many whatever the number of workers, so that the answer is the same. */
const ROUND = 6;
/** Once no pair that is left could raise the worth of the plan by more than this share, no more are searched. */
const WORTHWHILE = 0.01;
/** How much less likely each step between two slabs in their log makes a good seam: only the order of looking comes from it. */
const STEP_APART = 20;

/** Everything the rounds work with. */
export interface Rounds {
  readonly ground: Ground;
  readonly kept: KeptPlaces;
  readonly valuer: Valuer;
  readonly search: SeamSearch;
  /** What is taken from the beginning: locked places. */
  readonly taken: readonly Strip[];
}

/** Puts what tasks found among the places. */
export function keep({ ground, kept }: Rounds, tasks: readonly SeamTask[], found: readonly FoundPlaces[]): void {
  tasks.forEach((task, i) => {
    const { placements, unfit } = found[i] as FoundPlaces;
    for (const top of task.tops) {
      const own = placements.filter((placement) => placement.top === top);
      if (own.length > 0) kept.lookedAt(top, [...task.faces].sort().join(' '));
      kept.add(
        top,
        own.flatMap((placement) => candidateOf(placement, ground) ?? []),
        unfit.filter((one) => one.top === top),
      );
    }
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
  const open = new Set(others?.flatMap(({ stock }) => stock.map(slabKey)));
  const cost = (faces: readonly FaceStock[]): number =>
    slabsOf(faces)
      .filter((face) => !open.has(slabKey(face)))
      .reduce((sum, face) => sum + valuer.charge(face), 0);
  const worth = (now ?? []).reduce((sum, one) => sum + valuer.value(one), 0);
  return Math.max(0, most - cost(pair.faces) - (worth - cost((now ?? []).flatMap(({ stock }) => stock))));
}

/**
 * Searches the pairs for seams, a round at a time, until none that is left is worth its time. For one top that is proof: no pair left out can give a
 * plan that is better by more than the share that counts as worthwhile. For several it is so for each of them with the others where they are.
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
  const { valuer, search, taken } = rounds;
  let choice = first;
  const open = groups.flat();
  let left = pairs;
  while (left.length > 0 && control.budget.left > 0) {
    const raise = (pair: PairBound): number => Math.max(0, ...open.map((top) => couldRaise(choice, pair, top, valuer)));
    const could = open.reduce(
      (sum, top) => sum + Math.max(0, ...left.map((pair) => couldRaise(choice, pair, top, valuer))),
      0,
    );
    if (could <= WORTHWHILE * choice.value) break;
    // What cannot raise the choice now may do so once another pair has changed it: it waits.
    const now = left.filter((pair) => raise(pair) > 0).slice(0, ROUND);
    if (now.length === 0) break;
    left = left.filter((pair) => !now.includes(pair));
    const tasks = now.map(
      ({ faces: [a, b], most }): SeamTask => ({
        faces: [a.key, b.key],
        tops: groups.flatMap(([one]) => (one && most.has(one.id) ? [one.id] : [])),
        taken,
      }),
    );
    const from = 1 - (left.length + now.length) / pairs.length;
    const part = stage(control, from, 1 - left.length / pairs.length);
    keep(rounds, tasks, await search(tasks, part));
    choice = chosen();
  }
  return choice;
}
