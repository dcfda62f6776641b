import type { Job } from './job';
import type { OFFERS, Slab } from './stock';

/** Where a slab stands between the rack and the shop. One of which nobody said anything is in the shop. */
export const offerOf = (slab: Pick<Slab, 'offer'>): (typeof OFFERS)[number] => slab.offer ?? 'bought';

/**
 * Which slabs tops are laid on: those that were bought; where none is yet, those on offer. One that was sold to somebody else never.
 */
export function atHand(job: Pick<Job, 'flitches'>): (slab: Pick<Slab, 'offer'>) => boolean {
  const any = Object.values(job.flitches).some(({ slabs }) =>
    Object.values(slabs).some((slab) => offerOf(slab) === 'bought'),
  );
  const wanted = any ? 'bought' : 'offered';
  return (slab) => offerOf(slab) === wanted;
}
