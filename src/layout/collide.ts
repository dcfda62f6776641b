import {
  type Affine,
  applyAll,
  bounds,
  contains,
  distance,
  distanceToSegment,
  type Point,
  type Polygon,
  type Segment,
  segmentsCross,
} from '../geometry';
import type { Shop, Strip } from '../job';
import { stripMap } from './strips';

/** Lengths nearer than this, mm, are equal: corners of strips stand on whole micrometres, and no saw holds a twentieth of a millimetre. */
const ROUNDING = 0.05;

/** Whether two strips come from one slab, be it from its two faces. */
export const sameSlab = (a: Strip, b: Strip): boolean => a.flitch === b.flitch && a.slab === b.slab;

/**
 * Whether two strips cannot both be sawn: from the two faces of one slab, or with no room for a saw between their blanks. A straight cut across one of
 * them, as wide as the crosscut saw, or along one, as wide as the rip saw, must part them; or there is room for either saw all around.
 */
export function collide(a: Strip, b: Strip, kerf: Pick<Shop['kerf'], 'crosscut' | 'rip'>): boolean {
  if (!sameSlab(a, b)) return false;
  if (a.face !== b.face) return true;
  if ([a, b].some((strip) => isParted(a.rough, b.rough, stripMap(strip), kerf))) return false;
  return !isClear(a.rough, b.rough, Math.max(kerf.crosscut, kerf.rip) - ROUNDING);
}

/** Whether a cut across or along a strip parts two blanks. */
function isParted(
  p: Polygon<'face'>,
  q: Polygon<'face'>,
  map: Affine<'face', 'top'>,
  { crosscut, rip }: { readonly crosscut: number; readonly rip: number },
): boolean {
  const [a, b] = [bounds(applyAll(map, p)), bounds(applyAll(map, q))];
  const along = Math.max(b.minX - a.maxX, a.minX - b.maxX);
  const across = Math.max(b.minY - a.maxY, a.minY - b.maxY);
  return along >= crosscut - ROUNDING || across >= rip - ROUNDING;
}

/** Whether two blanks stay so far off each other everywhere. */
function isClear(p: Polygon<'face'>, q: Polygon<'face'>, room: number): boolean {
  if (contains(p, q[0] as Point<'face'>) || contains(q, p[0] as Point<'face'>)) return false;
  const [a, b] = [nearEdges(p, q, room), nearEdges(q, p, room)];
  return a.every((s) => b.every((t) => isApart(s, t, room)));
}

/** Edges of a ring that reach into the box of another, grown by so much. */
function nearEdges(ring: Polygon<'face'>, other: Polygon<'face'>, room: number): Segment<'face'>[] {
  const { minX, maxX, minY, maxY } = bounds(other);
  return ring.flatMap((p, i) => {
    const q = ring[(i + 1) % ring.length] as Point<'face'>;
    const off =
      Math.max(p[0], q[0]) < minX - room ||
      Math.min(p[0], q[0]) > maxX + room ||
      Math.max(p[1], q[1]) < minY - room ||
      Math.min(p[1], q[1]) > maxY + room;
    return off ? [] : [[p, q] as const];
  });
}

function isApart(s: Segment<'face'>, t: Segment<'face'>, room: number): boolean {
  const half = (distance(...s) + distance(...t)) / 2;
  const between = Math.hypot(s[0][0] + s[1][0] - t[0][0] - t[1][0], s[0][1] + s[1][1] - t[0][1] - t[1][1]) / 2;
  if (between >= half + room) return true;
  if (segmentsCross(s, t)) return false;
  const ends = [
    distanceToSegment(s[0], t),
    distanceToSegment(s[1], t),
    distanceToSegment(t[0], s),
    distanceToSegment(t[1], s),
  ];
  return Math.min(...ends) >= room;
}
