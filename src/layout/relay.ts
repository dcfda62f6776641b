import { slabKey, type Top } from '../job';
import { type Control, pause } from '../search';
import type { Candidate } from './candidate';
import type { Choice } from './choose';
import { freeStock } from './ground';
import { onePieces, shapedPlaces } from './own-places';
import type { PairBound } from './pair-bound';
import { idsOf } from './runs';
import type { Rounds } from './seam-rounds';
import { slabKeyOf, slabsOf } from './worth';

/**
 * Local search over a whole plan: each top in turn is laid again in one piece in the wood that the others leave, where it may find a place that was
 * not among those found while all wood was free (seams are searched so already, `searchRounds`); then the choice is made anew. It never gets worse.
 */

/** Rounds over all tops at most. */
const SWEEPS = 3;
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
  first: Choice,
  chosen: () => Choice,
  control: Control,
): Promise<Choice> {
  const { ground, kept, taken } = rounds;
  let choice = first;
  for (let sweep = 0; sweep < SWEEPS && tops.length > 1; sweep++) {
    for (const top of tops) {
      const others = [...taken, ...strips(choice, idsOf(top))];
      const { fit, unfit } = onePieces(top, 1, ground, others, ON_FACE);
      kept.add(top.id, fit, unfit);
    }
    await pause(control, sweep / SWEEPS);
    const next = chosen();
    const better = next.value > choice.value + 1e-6;
    choice = next;
    if (!better) break;
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
  const open = new Set(taken.map(({ flitch, slab }) => slabKey(flitch, slab)));
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
    const worth = (place: Candidate): number =>
      slabsOf(place.stock)
        .filter((face) => !open.has(slabKeyOf(face)))
        .reduce((sum, face) => sum - valuer.charge(face), valuer.value(place));
    const [best] = [...one.fit, ...two.fit].sort((a, b) => worth(b) - worth(a));
    if (!best) continue;
    gone = [...gone, ...best.placement.strips];
    for (const face of best.stock) open.add(slabKeyOf(face));
  }
}
