import {
  type Bounds,
  bounds,
  contains,
  nearestOnSegment,
  type Point,
  type Polygon,
  type Segment,
  segmentsCross,
} from '../geometry';

/** The shortest way from one ring to another, mm, and where it begins and ends. */
export interface Gap {
  readonly mm: number;
  readonly from: Point<'top'>;
  readonly to: Point<'top'>;
}

const sideOf = (ring: Polygon<'top'>, i: number): Segment<'top'> => [
  ring[(i + ring.length - 1) % ring.length] as Point<'top'>,
  ring[i] as Point<'top'>,
];

/** How far a side lies at least from a box, along x or along y. */
const farFrom = ({ minX, minY, maxX, maxY }: Bounds, [[ax, ay], [bx, by]]: Segment<'top'>): number =>
  Math.max(Math.min(ax, bx) - maxX, minX - Math.max(ax, bx), Math.min(ay, by) - maxY, minY - Math.max(ay, by));

const apart = (a: Bounds, b: Bounds): number =>
  Math.hypot(Math.max(0, a.minX - b.maxX, b.minX - a.maxX), Math.max(0, a.minY - b.maxY, b.minY - a.maxY));

/**
 * The gap between the edges of two rings, on whichever side they lie; 0 where they cross. Null where they are `within` mm or more apart.
 * Quick enough to be asked at every frame: sides whose boxes lie too far away are not measured.
 */
export function edgeGap(a: Polygon<'top'>, b: Polygon<'top'>, within: number): Gap | null {
  return gapToSides(a, sidesOf(b), within);
}

/** The sides of a ring. */
export const sidesOf = (ring: Polygon<'top'>): Segment<'top'>[] => ring.map((_, i) => sideOf(ring, i));

/** The gap between the edge of a ring and some sides of others, in the same way. */
export function gapToSides(a: Polygon<'top'>, sides: readonly Segment<'top'>[], within: number): Gap | null {
  let best: Gap | null = null;
  let least = within;
  const box = bounds(a);
  const better = (p: Point<'top'>, side: Segment<'top'>, own: boolean) => {
    const q = nearestOnSegment(p, side);
    const mm = Math.hypot(q[0] - p[0], q[1] - p[1]);
    if (mm >= least) return;
    least = mm;
    best = own ? { mm, from: p, to: q } : { mm, from: q, to: p };
  };
  for (const side of sides) {
    if (farFrom(box, side) >= least) continue;
    for (let k = 0; k < a.length; k++) {
      const own = sideOf(a, k);
      if (segmentsCross(own, side)) return { mm: 0, from: own[0], to: own[0] };
      better(own[1], side, true);
      better(side[1], own, false);
    }
  }
  return best;
}

/** The gap between two areas: 0 where they overlap or one holds the other. Null where they are `within` mm or more apart. */
export function areaGap(a: Polygon<'top'>, b: Polygon<'top'>, within: number): Gap | null {
  if (apart(bounds(a), bounds(b)) >= within) return null;
  const [p, q] = [a[0] as Point<'top'>, b[0] as Point<'top'>];
  if (contains(b, p)) return { mm: 0, from: p, to: p };
  if (contains(a, q)) return { mm: 0, from: q, to: q };
  return edgeGap(a, b, within);
}
