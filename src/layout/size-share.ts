import type { Top } from '../job';

/**
 * What having a top counts by its size: a counter that is missed is not made up for by two shelves. One twice as large as the job's tops in the mean
 * counts twice; none counts less than `LEAST`, so that having it still outweighs how it looks (ours, no source).
 */
const LEAST = 0.7;

const area = ({ length, depth }: Pick<Top, 'length' | 'depth'>): number => length * depth[0];

/** A top's share by its size, 1 for a top of mean size. @param tops all that are wanted, each copy for itself */
export function sizeShares(tops: readonly Top[]): (top: Pick<Top, 'length' | 'depth'>) => number {
  const mean = tops.reduce((sum, top) => sum + area(top), 0) / tops.length;
  return (top) => Math.max(LEAST, area(top) / mean);
}
