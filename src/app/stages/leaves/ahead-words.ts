import type { Board } from '../../../job';
import type { LeavesAhead, PicturedAhead } from '../../../plan';
import { formatLength, type UnitSystem } from '../../../units';

/** How far an estimate of the leaves of a board can be trusted. */
export function trustSays(
  { name, thickness }: Board,
  { reach, leaves }: Pick<LeavesAhead, 'reach'> & { readonly leaves: readonly Pick<PicturedAhead, 'trusted'>[] },
  units: UnitSystem,
): string {
  if (2 * reach >= thickness)
    return `${name}: the rings were followed from face to face. Lines stand within about half a ring of where they will be.`;
  const good = leaves.filter(({ trusted }) => trusted).length;
  const far = formatLength(reach, units, { decimals: 0, unit: true });
  return `${name}: to about ${far} from either face lines stand within about half a ring of where they will be (${good} of ${leaves.length} leaves); deeper, trust only their run and their spacing.`;
}
