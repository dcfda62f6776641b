import type { Strip, Top } from '../job';
import type { Candidate } from './candidate';
import type { Checker } from './chosen';
import type { Ground } from './ground';
import { onePieces, shapedPlaces } from './own-places';
import { measured } from './placement';
import { promisingPairs } from './seam-rounds';
import { valuer } from './worth';

/** Places of one piece of a face, and with a seam in all, that are looked at: as many as a first plan is made of. */
const [ON_FACE, SHAPED] = [3, 6];

const thicknessOf = ({ placement }: Candidate): number => placement.thickness ?? Infinity;

/**
 * A place that a top has on the stock by shape alone, without a look at the wood: one that was measured and that the checker passes, so that laying out
 * finds a plan with it, too. The thickest of those looked at, a slab that nobody read before all; null where none finishes as thick as wanted.
 * @param top as it is laid out, one of it, and part of no run
 * @param taken what other pieces take of the slabs
 * @param check of the job that wants such a top
 */
export function placeByShape(top: Top, ground: Ground, taken: readonly Strip[], check: Checker): Candidate | null {
  const ranks = valuer(ground.stock, [top], ground.job.shop.weights);
  const pairs =
    top.seams === 0
      ? []
      : promisingPairs([[top]], { ground, valuer: ranks, taken }).flatMap(({ faces: [a, b] }) => [
          [a, b] as const,
          [b, a] as const,
        ]);
  const found = [
    ...onePieces(top, 1, ground, taken, ON_FACE).fit,
    ...shapedPlaces(top, ground, pairs, SHAPED).fit,
  ].sort((a, b) => thicknessOf(b) - thicknessOf(a));
  let best: Candidate | null = null;
  for (const rough of found) {
    // The first sieve's thickness is rather too much: none of the rest is thicker.
    if (thicknessOf(rough) < top.thickness || (best && thicknessOf(rough) <= thicknessOf(best))) break;
    const one = measured(rough, ground.job.shop);
    if (thicknessOf(one) < top.thickness || (best && thicknessOf(one) <= thicknessOf(best))) continue;
    if (check({ placements: { [top.id]: one.placement }, misses: [] }).length === 0) best = one;
  }
  return best;
}
