import type { Door, FaceName, PanelSet } from '../job';
import { formatLength } from '../units';

/** More of the figure than this is missed by the eye over a gap, mm: the standard's limit at an end-matched joint (AWS 8-7.2.3). */
const MOST_LOST = 38;

/**
 * What a maker is told of a laid set before it is glued, a sentence each: strips that show their two faces by turns (the barber-pole effect: the faces take
 * light and finish differently, AWS App. B p. 561), and figure that is lost where the grain is to run on.
 * @param loose face of sliced leaves; null for sawn ones, which have none
 */
export function setWarnings(
  set: PanelSet,
  doors: Readonly<Record<string, Door>>,
  loose: FaceName | null,
  units: 'mm' | 'in',
): string[] {
  const names = (ids: readonly string[]) => {
    const called = [...new Set(ids.map((id) => doors[id]?.name ?? id))];
    return called.length > 3 ? `${called.slice(0, 3).join(', ')} and others` : called.join(', ');
  };
  const byTurns = Object.values(set.fronts).filter(({ cells }) => new Set(cells.map(({ face }) => face)).size > 1);
  const said: string[] = [];
  if (byTurns.length > 0) {
    const faces = loose ? 'tight and loose faces' : 'both faces of their leaves';
    said.push(
      `${names(byTurns.map(({ door }) => door))}: the strips show ${faces} by turns, which take light and finish differently: from one side they look light and dark (barber-pole effect). Finish a trial piece, or slip match them.`,
    );
  }
  const far = set.joints.filter(({ lost }) => lost > MOST_LOST);
  if (far.length > 0) {
    const most = formatLength(Math.max(...far.map(({ lost }) => lost)), units, { unit: true, decimals: 0 });
    const ids = far.map(({ to }) => set.fronts[to.front]?.door ?? to.front);
    said.push(
      `${names(ids)}: up to ${most} of the figure is lost between fronts whose grain is to run on. Less trim, or pressing them as one sheet, loses less.`,
    );
  }
  return said;
}
