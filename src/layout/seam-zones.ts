import { applyAll, bounds, type Polygon, type Segment } from '../geometry';
import type { Strip, Top } from '../job';
import { stripMap } from './strips';

/** Where in a top no seam may run. A seam runs level, from one end of the top to the other. */

/** Zones that no joint may cross: those drawn, and holes that no seam may run through. */
export const seamZones = ({ noSeam, cutOuts }: Pick<Top, 'noSeam' | 'cutOuts'>): Polygon<'top'>[] => [
  ...Object.values(noSeam).map(({ polygon }) => polygon),
  ...Object.values(cutOuts).flatMap(({ polygon, seam }) => (seam ? [] : [polygon])),
];

/** How far a level line runs inside a zone: what it would have to be moved by to leave it, mm; 0 where it does not cross it. */
export function crossedBy(y: number, zone: Polygon<'top'>): number {
  const { minY, maxY } = bounds(zone);
  return Math.max(0, Math.min(y - minY, maxY - y));
}

/** The two lines nearest to a zone that do not cross it. */
export function besideZone(zone: Polygon<'top'>): readonly [number, number] {
  const { minY, maxY } = bounds(zone);
  return [minY, maxY];
}

/** y of the joints of a top, from its front to its back. */
export const jointsAt = (strips: readonly Strip[]): number[] =>
  strips.flatMap((strip) =>
    strip.jointBack ? [(applyAll(stripMap(strip), strip.jointBack) as unknown as Segment<'top'>)[0][1]] : [],
  );
