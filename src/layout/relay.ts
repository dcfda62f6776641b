import type { Top } from '../job';
import { type Control, stage } from '../search';
import type { Choice } from './choose';
import { freeStock } from './ground';
import { onePieces, shapedPlaces } from './own-places';
import type { PairBound } from './pair-bound';
import { idsOf } from './runs';
import { couldRaise, keep, type Rounds } from './seam-rounds';
import type { SeamTask } from './seam-task';

/**
 * Local search over a whole plan: each top in turn is laid again in the wood that the others leave, where it may find a place that was not among
 * those found while all wood was free; then the choice is made anew. It never gets worse.
 */

/** Rounds over all tops at most. */
const SWEEPS = 3;
/** Pairs that a top is laid on again. */
const PAIRS = 3;
/** Places of one piece of a face that are looked at. */
const ON_FACE = 3;

const strips = ({ candidates }: Choice, but: readonly string[]) =>
  candidates.filter(({ top }) => !but.includes(top.id)).flatMap(({ placement }) => placement.strips);

/**
 * @param tops those that may be moved
 * @param chosen makes the choice anew
 * @throws Cancelled
 */
export async function relay(
  rounds: Rounds,
  tops: readonly Top[],
  pairs: readonly PairBound[],
  first: Choice,
  chosen: () => Choice,
  control: Control,
): Promise<Choice> {
  const { ground, kept, valuer, search, taken } = rounds;
  const done = new Set<string>();
  let choice = first;
  for (let sweep = 0; sweep < SWEEPS && tops.length > 1; sweep++) {
    const tasks: SeamTask[] = [];
    for (const top of tops) {
      const others = [...taken, ...strips(choice, idsOf(top))];
      const { fit, unfit } = onePieces(top, 1, ground, others, ON_FACE);
      kept.add(top.id, fit, unfit);
      const promising = pairs
        .map((pair) => ({ pair, raise: couldRaise(choice, pair, top, valuer) }))
        .filter(({ raise }) => raise > 0)
        .sort((a, b) => b.raise - a.raise)
        .slice(0, PAIRS);
      for (const { pair } of promising) {
        const [a, b] = pair.faces;
        const near = others.filter(({ flitch, slab }) =>
          pair.faces.some((face) => face.flitch.id === flitch && face.slab.id === slab),
        );
        // Where nothing lies on the pair its places are known.
        if (near.length === 0) continue;
        const task: SeamTask = { faces: [a.key, b.key], tops: [top.id], taken: near };
        const key = JSON.stringify(task);
        if (done.has(key)) continue;
        done.add(key);
        tasks.push(task);
      }
    }
    if (control.budget.left > 0)
      keep(rounds, tasks, await search(tasks, stage(control, sweep / SWEEPS, (sweep + 1) / SWEEPS)));
    const next = chosen();
    if (next.value <= choice.value + 1e-6) return next.value >= choice.value ? next : choice;
    choice = next;
  }
  return choice;
}

/**
 * Lays the tops one after the other, each in what those before it leave, so that there is a set of places that do not get into each other's way.
 * @param order of the tops
 * @returns nothing; what was found is among the places kept
 */
export function packed(rounds: Rounds, order: readonly Top[], pairs: readonly PairBound[]): void {
  const { ground, kept, valuer, taken } = rounds;
  let gone = [...taken];
  for (const top of order) {
    const free = new Map(freeStock(ground, gone).map((face) => [face.key, face]));
    const both = pairs
      .filter((pair) => pair.most.has(top.id))
      .flatMap(({ faces: [a, b] }) => {
        const [f, g] = [free.get(a.key), free.get(b.key)];
        return f && g ? [[f, g] as const, [g, f] as const] : [];
      });
    const one = onePieces(top, 1, ground, gone, ON_FACE);
    const two = top.seams > 0 ? shapedPlaces(top, ground, both, ON_FACE) : { fit: [], unfit: [] };
    kept.add(top.id, [...one.fit, ...two.fit], [...one.unfit, ...two.unfit]);
    const [best] = [...one.fit, ...two.fit].sort((a, b) => valuer.alone(b) - valuer.alone(a));
    if (best) gone = [...gone, ...best.placement.strips];
  }
}
