import {
  apply,
  bounds,
  distance,
  distanceToRing,
  distanceToSegment,
  type Point,
  type Polygon,
  type Segment,
} from '../geometry';
import type { Face, Strip } from '../job';
import { defectArea } from './defect-area';
import type { FaceStock } from './stock';
import { stripMap } from './strips';

/** How much room a strip has to where it would no longer fit, and how well that is known there: what a chance of fitting follows from. */
export interface Clearance {
  /** The side of the strip in its top, or the defect that it must keep off. */
  readonly of: 'front' | 'back' | 'right' | 'left' | 'defect';
  /** From the sawn edge to the wood's edge, or from the strip to the defect, mm. */
  readonly room: number;
  /** Room beyond the margin of two sigma that every plan keeps, mm. */
  readonly slack: number;
  /** One standard deviation of the outline there, mm. */
  readonly sigma: number;
  readonly at: Point<'face'>;
}

/** A corner this near to the outline lies on it, mm. */
const ON_EDGE = 0.05;
/** Defects farther off than so many margins bring no doubt. */
const NEAR = 4;

interface Known {
  readonly away: number;
  readonly mm: number;
}
const nearer = (a: Known, b: Known): Known => (b.away < a.away ? b : a);

/**
 * One standard deviation of an outline at a place, mm: the camera's part as its calibration says it of the nearest point that it was worked out for, the
 * rest, how well the edge was followed, alike everywhere. Of several photos that one counts whose point is nearest.
 */
function sigmaAt({ photos, outlineSigma }: Pick<Face, 'photos' | 'outlineSigma'>, overall: number) {
  const cameras = Object.values(photos).flatMap(({ calibration }) => {
    const known = calibration?.sigma ?? [];
    if (known.length === 0 || outlineSigma === null) return [];
    const sorted = known.map(({ mm }) => mm).sort((a, b) => a - b);
    const median = sorted[Math.floor(sorted.length / 2)] as number;
    return [{ known, followed: Math.sqrt(Math.max(0, overall ** 2 - median ** 2)) }];
  });
  return (p: Point<'face'>): number => {
    if (cameras.length === 0) return overall;
    const there = cameras.map(({ known, followed }) => {
      const [first, ...rest] = known.map(({ at, mm }) => ({ away: distance(at, p), mm: Math.hypot(followed, mm) }));
      return rest.reduce(nearer, first as Known);
    });
    return there.reduce(nearer).mm;
  };
}

/** The nearest that a straight piece comes to a ring, and where on the piece. */
function nearest(piece: Segment<'face'>, ring: Polygon<'face'>): { readonly room: number; readonly at: Point<'face'> } {
  let [room, at] = [distanceToRing(piece[0], ring), piece[0]];
  const offer = (off: number, p: Point<'face'>): void => {
    if (off < room) [room, at] = [off, p];
  };
  offer(distanceToRing(piece[1], ring), piece[1]);
  // Two pieces that do not cross are nearest at an end of one of them.
  for (const p of ring) offer(distanceToSegment(p, piece), p);
  return { room, at };
}

/** The ends of a piece that lie on the wood's own edge moved inward, to where the margin begins to count; null where nothing is left. */
function offLive([a, b]: Segment<'face'>, live: readonly [boolean, boolean], by: number): Segment<'face'> | null {
  const length = distance(a, b);
  const [from, to] = [live[0] ? by : 0, live[1] ? length - by : length];
  if (from >= to) return null;
  const at = (s: number): Point<'face'> => [a[0] + ((b[0] - a[0]) * s) / length, a[1] + ((b[1] - a[1]) * s) / length];
  return [at(from), at(to)];
}

/**
 * Room of a strip on each of its sawn sides, and to the nearest thing that must be kept off. A live edge is the wood's own and has none; an end
 * that meets it counts from three margins behind it on. A strip that sticks out is not asked for: plans do not hold any.
 */
export function clearances(strip: Strip, stock: FaceStock): Clearance[] {
  const { outline, margin, slab, face } = stock;
  const rings = [outline.outer, ...outline.holes];
  const sigma = sigmaAt(slab.faces[face], margin / 2);
  const map = stripMap(strip);
  const ring = strip.finished;
  const onEdge = ring.map((p) => Math.min(...rings.map((one) => distanceToRing(p, one))) < ON_EDGE);
  const inTop = ring.map((p) => apply(map, p));
  const { minX, maxX, minY, maxY } = bounds(inTop);
  const least = new Map<Clearance['of'], Clearance>();
  const offer = (of: Clearance['of'], room: number, at: Point<'face'>): void => {
    const known = least.get(of);
    if (!known || room < known.room) {
      const doubt = sigma(at);
      least.set(of, { of, room, slack: room - 2 * doubt, sigma: doubt, at });
    }
  };
  ring.forEach((p, i) => {
    const next = (i + 1) % ring.length;
    const live = [onEdge[i] === true, onEdge[next] === true] as const;
    if (live[0] && live[1]) return;
    const piece = offLive([p, ring[next] as Point<'face'>], live, 3 * margin + 1);
    if (!piece) return;
    const [a, b] = [inTop[i] as Point<'top'>, inTop[next] as Point<'top'>];
    const across = Math.abs(b[1] - a[1]) > Math.abs(b[0] - a[0]);
    const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const side = across ? (x - minX < maxX - x ? 'right' : 'left') : y - minY < maxY - y ? 'front' : 'back';
    const found = rings.map((one) => nearest(piece, one)).reduce((s, t) => (t.room < s.room ? t : s));
    offer(side, found.room, found.at);
  });
  const box = bounds(ring);
  for (const defect of stock.defects.filter(({ permit }) => permit === 'avoid')) {
    for (const { outer } of defectArea(defect, 0)) {
      const far = bounds(outer);
      const away = Math.max(far.minX - box.maxX, box.minX - far.maxX, far.minY - box.maxY, box.minY - far.maxY);
      if (away > NEAR * margin) continue;
      const found = outer
        .map((p, i) => nearest([p, outer[(i + 1) % outer.length] as Point<'face'>], ring))
        .reduce((s, t) => (t.room < s.room ? t : s));
      if (found.room < NEAR * margin) offer('defect', found.room, found.at);
    }
  }
  return [...least.values()];
}
