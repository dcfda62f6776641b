import type { Slab, Spot } from '../../../../job';

/** What is read of a slab, box by box, in the order in which one walks round it. Pure. */

/** One box of the reading sheet. Drops are typed downward; the job keeps heights, upward. */
export interface Box {
  readonly spot: string;
  readonly which: 'top' | 'bottom' | 'thickness';
}

/** Spots within this of each other along the slab stand in one row across it, mm. */
const ROW = 40;

/** The slab's spots in rows across it, each row from one edge to the other. */
function rowsOf(slab: Slab): Spot[][] {
  const spots = Object.values(slab.spots).sort((p, q) => p.at[0] - q.at[0]);
  const rows: Spot[][] = [];
  for (const spot of spots) {
    const row = rows.at(-1);
    if (row?.[0] && spot.at[0] - row[0].at[0] <= ROW) row.push(spot);
    else rows.push([spot]);
  }
  return rows.map((row) => row.sort((p, q) => p.at[1] - q.at[1]));
}

/**
 * Boxes to fill: every drop of the upper face to and fro across the slab, then the thicknesses along its two edges, which callipers reach, then
 * the underside's drops where it is read, too.
 */
export function boxesOf(slab: Slab, underside: boolean): Box[] {
  const rows = rowsOf(slab);
  const snake = rows.flatMap((row, i) => (i % 2 === 0 ? row : [...row].reverse()));
  const drops = (which: 'top' | 'bottom'): Box[] => snake.map(({ id }) => ({ spot: id, which }));
  const edge = (pick: (row: Spot[]) => Spot | undefined): Box[] =>
    rows.flatMap((row) => {
      const spot = pick(row);
      return spot ? [{ spot: spot.id, which: 'thickness' as const }] : [];
    });
  const edges = [...edge((row) => row[0]), ...edge((row) => (row.length > 1 ? row.at(-1) : undefined)).reverse()];
  return [...drops('top'), ...edges, ...(underside ? drops('bottom') : [])];
}

/** What stands in a box as it is typed. */
export function typedIn(slab: Slab, { spot, which }: Box): number | null {
  const value = slab.spots[spot]?.[which] ?? null;
  return value === null || which === 'thickness' ? value : -value;
}

/** What was typed, as the job keeps it. */
export const keptOf = (which: Box['which'], typed: number | null): number | null =>
  typed === null || which === 'thickness' ? typed : 0 - typed;
