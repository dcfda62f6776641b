import { bounds, type Point, type Polygon, rectangle } from '../../../geometry';
import type { Top } from '../../../job';

/** Parts of a top that are drawn in it: hidden parts, parts without seams, and holes. As one stands before the top, from its left front corner. */

export const ZONE_KINDS = ['covered', 'noSeam', 'cutOuts'] as const;
export type ZoneKind = (typeof ZONE_KINDS)[number];

export const ZONE_NAMES: Readonly<Record<ZoneKind, string>> = {
  covered: 'hidden part',
  noSeam: 'zone without seams',
  cutOuts: 'hole',
};

/** What a zone does, in a sentence. */
export const ZONE_SAYS: Readonly<Record<ZoneKind, string>> = {
  covered: 'Hidden or covered: a defect does not matter there.',
  noSeam: 'No seam runs through it: over a divider, beside a sink, under a key.',
  cutOuts: 'Cut out for a sink or a hob; wood is kept between it and every edge.',
};

/** A zone's box: its distance from the left-hand end and from the front, and its size, mm. */
export interface ZoneBox {
  readonly left: number;
  readonly front: number;
  readonly long: number;
  readonly deep: number;
}

export interface Zone {
  readonly kind: ZoneKind;
  readonly id: string;
  readonly polygon: Polygon<'top'>;
}

/** All zones of a top, in the order that they are listed in. */
export const zonesOf = (top: Top): Zone[] =>
  ZONE_KINDS.flatMap((kind) => Object.values(top[kind]).map(({ id, polygon }) => ({ kind, id, polygon })));

export function zoneBox(top: Pick<Top, 'length'>, polygon: Polygon<'top'>): ZoneBox {
  const { minX, maxX, minY, maxY } = bounds(polygon);
  return { left: top.length - maxX, front: minY, long: maxX - minX, deep: maxY - minY };
}

/** The zone moved and stretched into another box, whatever its shape. */
export function intoBox(top: Pick<Top, 'length'>, polygon: Polygon<'top'>, to: ZoneBox): Polygon<'top'> {
  const from = bounds(polygon);
  const [minX, along, deep] = [top.length - to.left - to.long, from.maxX - from.minX || 1, from.maxY - from.minY || 1];
  return polygon.map(
    ([x, y]): Point<'top'> => [
      minX + ((x - from.minX) / along) * to.long,
      to.front + ((y - from.minY) / deep) * to.deep,
    ],
  );
}

/** A new zone of common size in the middle of the top: a sink's hole is 560 by 420 mm, with 70 mm of wood kept beside it (practice, no source). */
export function newZone(top: Pick<Top, 'length' | 'depth' | ZoneKind>, kind: ZoneKind): Polygon<'top'> {
  const [long, deep] = [
    Math.min(560, top.length / 2),
    kind === 'cutOuts' ? Math.min(420, top.depth[0] / 2) : top.depth[0] / 2,
  ];
  // Beside those that are there already, on either side in turn, so that it is seen.
  const others = ZONE_KINDS.reduce((count, one) => count + Object.keys(top[one]).length, 0);
  const aside = 1.1 * long * Math.ceil(others / 2) * (others % 2 === 0 ? 1 : -1);
  const x = Math.min(top.length - long, Math.max(0, (top.length - long) / 2 + aside));
  const y = (top.depth[0] - deep) / 2;
  return rectangle<'top'>(x, y, x + long, y + deep);
}

/** Wood kept beside a new hole, mm (practice, no source). */
export const KEEP = 70;
