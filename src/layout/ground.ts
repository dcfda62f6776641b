import type { Job, Strip, Top } from '../job';
import { laidAs } from './runs';
import { grainOfPairs, type LookedAt } from './seam-grain';
import { type FaceStock, type Pictures, stockAtHand } from './stock';
import { lessTaken } from './taken';

/** A job made ready for laying tops out: its faces, and what they look like beside each other. Made once, in every thread that searches. */
export interface Ground {
  readonly job: Job;
  readonly stock: readonly FaceStock[];
  readonly grain: (front: FaceStock, back: FaceStock) => LookedAt | null;
}

/** @param pictures rectified faces by key (faceKey) */
export const groundOf = (job: Job, pictures: Pictures): Ground => ({
  job,
  stock: stockAtHand(job, pictures),
  grain: grainOfPairs(job.shop.kerf.fine),
});

/** Faces less what others take of them, by ground: tops are laid beside the same few places again and again. Nothing outlives its ground. */
const known = new WeakMap<Ground, Map<string, FaceStock | null>>();
/** So many are held at most: those of the places that one round of choosing looks at. */
const HELD = 200;

/** The faces less what other pieces take of their slabs. The same wood is the same object, so that what is found out of it is found once. */
export function freeStock(ground: Ground, taken: readonly Strip[]): FaceStock[] {
  const { stock, job } = ground;
  const held = known.get(ground) ?? new Map<string, FaceStock | null>();
  known.set(ground, held);
  return stock.flatMap((face): readonly FaceStock[] => {
    const own = taken.filter(({ flitch, slab }) => flitch === face.flitch.id && slab === face.slab.id);
    if (own.length === 0) return [face];
    const key = `${face.key} ${JSON.stringify(own.map((strip) => [strip.face, strip.toTop, strip.rough]))}`;
    const have = held.get(key);
    const free = have === undefined ? lessTaken(face, own, job.shop) : have;
    if (have === undefined && held.size >= HELD) held.clear();
    held.set(key, free);
    return free ? [free] : [];
  });
}

/** @throws RangeError for a top that the job does not want */
export function topOf({ job }: Ground, id: string): Top {
  const top = laidAs(job, id);
  if (!top) throw new RangeError(`The job wants no top ${id}.`);
  return top;
}
