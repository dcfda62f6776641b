import type { Slab } from '../../../../job';
import { edgeSpots, spotRows } from '../../../../surface';

/** What is read of a slab, box by box, in the order in which one walks round it. Pure. */

/** One box of the reading sheet. Drops are typed downward; the job keeps heights, upward. */
export interface Box {
  readonly spot: string;
  readonly which: 'top' | 'bottom' | 'thickness';
}

/**
 * Boxes to fill: every drop of the upper face to and fro across the slab, then the thicknesses along its two edges, which callipers reach, then
 * the underside's drops where it is read, too.
 */
export function boxesOf(slab: Slab, underside: boolean): Box[] {
  const spots = Object.values(slab.spots);
  const snake = spotRows(spots).flatMap((row, i) => (i % 2 === 0 ? row : row.reverse()));
  const drops = (which: 'top' | 'bottom'): Box[] => snake.map(({ id }) => ({ spot: id, which }));
  const thicknesses = edgeSpots(spots).map(({ id }): Box => ({ spot: id, which: 'thickness' }));
  return [...drops('top'), ...thicknesses, ...(underside ? drops('bottom') : [])];
}

/** A reading turned about: what was typed as the job keeps it, and what it keeps as it is typed. A drop counts downward, a height upward. */
export const turned = (which: Box['which'], mm: number | null): number | null =>
  mm === null || which === 'thickness' ? mm : 0 - mm;

/** What stands in a box as it is typed. */
export const typedIn = (slab: Slab, { spot, which }: Box): number | null =>
  turned(which, slab.spots[spot]?.[which] ?? null);
