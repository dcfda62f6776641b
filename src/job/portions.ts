import { emptyJob } from './defaults';
import type { Job } from './job';
import type { Board, Face, Slab } from './stock';

/** What of a job can be handed on where photos cannot go along. Each portion is a job of its own, so that one reader serves all. */

export const PORTIONS = ['all', 'stock', 'wanted', 'shop'] as const;
export type Portion = (typeof PORTIONS)[number];

/** The part of a job that is handed on, its photos left out; what was read of them stays. */
export function portionOf(job: Job, portion: Portion): Job {
  const bare: Job = { ...emptyJob(job.id, job.name, job.date), units: job.units, currency: job.currency };
  const { shop, tops, doors, runs } = job;
  if (portion === 'shop') return { ...bare, shop };
  if (portion === 'wanted') return { ...bare, tops, doors, runs };
  const stock = {
    flitches: mapped(job.flitches, (flitch) => ({ ...flitch, slabs: mapped(flitch.slabs, slabWithout) })),
    boards: mapped(job.boards, boardWithout),
  };
  return portion === 'stock' ? { ...bare, ...stock } : { ...job, ...stock };
}

const faceWithout = (face: Face): Face => ({ ...face, photos: {}, picture: null });
const facesWithout = ({ top, bottom }: Slab['faces']): Slab['faces'] => ({
  top: faceWithout(top),
  bottom: faceWithout(bottom),
});
const slabWithout = (slab: Slab): Slab => ({ ...slab, faces: facesWithout(slab.faces) });
const boardWithout = (board: Board): Board => ({
  ...board,
  ...(board.faces && { faces: facesWithout(board.faces) }),
  leaves: mapped(board.leaves, (leaf) => ({ ...leaf, faces: facesWithout(leaf.faces) })),
});

function mapped<T>(things: Record<string, T>, change: (thing: T) => T): Record<string, T> {
  return Object.fromEntries(Object.entries(things).map(([id, thing]) => [id, change(thing)]));
}
