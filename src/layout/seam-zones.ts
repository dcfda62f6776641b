import { applyAll, bounds, type Polygon, type Segment } from '../geometry';
import type { Strip, Top } from '../job';
import { stripMap } from './strips';

/** Where in a top no seam may run. A seam runs level, from one end of the top to the other. */

/** A part of a top that no joint may cross; a hole has a name. */
export interface SeamZone {
  readonly polygon: Polygon<'top'>;
  readonly name?: string;
}

/** Zones that no joint may cross: those drawn, and holes that no seam may run through. */
const zonesOf = ({ noSeam, cutOuts }: Pick<Top, 'noSeam' | 'cutOuts'>): SeamZone[] => [
  ...Object.values(noSeam),
  ...Object.values(cutOuts).filter(({ seam }) => !seam),
];

/** Where they lie. */
export const seamZones = (top: Pick<Top, 'noSeam' | 'cutOuts'>): Polygon<'top'>[] =>
  zonesOf(top).map(({ polygon }) => polygon);

/** The top as it would be if a seam might run anywhere in it. */
export const withoutZones = (top: Top): Top => ({
  ...top,
  noSeam: {},
  cutOuts: Object.fromEntries(Object.entries(top.cutOuts).map(([id, hole]) => [id, { ...hole, seam: true }])),
});

/** y of the joints of a top, from its front to its back. */
const jointsAt = (strips: readonly Strip[]): number[] =>
  strips.flatMap((strip) =>
    strip.jointBack ? [(applyAll(stripMap(strip), strip.jointBack) as unknown as Segment<'top'>)[0][1]] : [],
  );

/** The zone that joints run farthest inside, and by how much; null where they cross none. */
export function deepestIn(top: Top, strips: readonly Strip[]): { readonly zone: SeamZone; readonly by: number } | null {
  const joints = jointsAt(strips);
  const crossed = zonesOf(top)
    .map((zone) => ({ zone, by: Math.max(0, ...joints.map((y) => crossedBy(y, zone.polygon))) }))
    .filter(({ by }) => by > 0);
  return crossed.length > 0 ? crossed.reduce((a, b) => (b.by > a.by ? b : a)) : null;
}

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
