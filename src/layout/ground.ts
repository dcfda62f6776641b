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
  grain: grainOfPairs(job.shop.kerf.rip),
});

/** The faces less what other pieces take of their slabs. */
export const freeStock = ({ stock, job }: Ground, taken: readonly Strip[]): FaceStock[] =>
  stock.flatMap((face) => lessTaken(face, taken, job.shop) ?? []);

/** @throws RangeError for a top that the job does not want */
export function topOf({ job }: Ground, id: string): Top {
  const top = laidAs(job, id);
  if (!top) throw new RangeError(`The job wants no top ${id}.`);
  return top;
}
