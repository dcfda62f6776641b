import { distanceToSegment, type Point } from '../geometry';
import type { Arc } from './drawing';

type At = Point<'paper'>;

/** Where an arc stands at an angle in degrees from +x to +y. */
export function onArc({ centre, radius }: Pick<Arc, 'centre' | 'radius'>, degrees: number): At {
  const t = (degrees * Math.PI) / 180;
  return [centre[0] + radius * Math.cos(t), centre[1] + radius * Math.sin(t)];
}

/**
 * An arc as cubic Bezier pieces of at most a quarter turn, each within 0.03 % of its radius of the circle
 * (the standard 4/3 tan(angle/4) construction).
 */
export function arcBeziers(arc: Arc): { start: At; curves: [At, At, At][] } {
  const sweep = arc.to - arc.from;
  const pieces = Math.max(1, Math.ceil(Math.abs(sweep) / 90));
  const step = sweep / pieces;
  const reach = (4 / 3) * Math.tan((step * Math.PI) / 720) * arc.radius;
  const curves: [At, At, At][] = [];
  for (let i = 0; i < pieces; i++) {
    const [a, b] = [arc.from + i * step, arc.from + (i + 1) * step];
    const [start, end] = [onArc(arc, a), onArc(arc, b)];
    const [s, t] = [(a * Math.PI) / 180, (b * Math.PI) / 180];
    curves.push([
      [start[0] - reach * Math.sin(s), start[1] + reach * Math.cos(s)],
      [end[0] + reach * Math.sin(t), end[1] - reach * Math.cos(t)],
      end,
    ]);
  }
  return { start: onArc(arc, arc.from), curves };
}

/** A corner of a line with how its side to the next corner bends: the tangent of a quarter of the arc's turn, 0 for a straight side (as drawing files count). */
export interface Bend {
  readonly at: At;
  /** Positive where the arc turns from +x to +y. */
  readonly bulge: number;
}

/** Corners this near to a circle are on it, mm: what rounding to micrometres leaves. */
const ON_CIRCLE = 0.005;
/** A side that turns by more than this against the one before is a corner, not a piece of an arc, degrees. */
const LEAST_FINE = 25;
/** Fewer sides than this, or a shorter turn in degrees, may lie on a circle by chance. */
const [LEAST_SIDES, LEAST_TURN] = [4, 20];

/**
 * A line or ring of many short sides as few straight ones and true arcs: where its corners lie on a circle they were drawn from one (a round top, a
 * pocket's corner, a fillet), and a machine shall cut the arc. Rings may begin at another corner; no arc turns by more than half a circle.
 */
export function bends(all: readonly At[], closed: boolean): Bend[] {
  const points = withoutHairs(all, closed);
  const start = closed ? firstCorner(points) : 0;
  const count = points.length;
  const ring = closed ? Array.from({ length: count + 1 }, (_, i) => points[(start + i) % count] as At) : points;
  const out: Bend[] = [];
  for (let i = 0; i < ring.length; ) {
    const end = arcFrom(ring, i);
    const [a, b] = [ring[i] as At, ring[end] as At];
    const half = ring[(i + end) >> 1] as At;
    out.push({ at: a, bulge: end > i + 1 ? Math.tan(turnAt(a, half, b) / 2) : 0 });
    i = Math.max(end, i + 1);
  }
  return closed ? out.slice(0, -1) : out;
}

/** What stands no farther off a side than this was put there by rounding, mm: a seam that crosses it, a corner twice a micrometre apart. */
const HAIR = 0.002;

function withoutHairs(points: readonly At[], closed: boolean): At[] {
  const kept: At[] = [];
  points.forEach((p, i) => {
    const before = kept.at(-1) ?? (closed ? points.at(-1) : undefined);
    const after = points[i + 1] ?? (closed ? kept[0] : undefined);
    if (!before || !after || distanceToSegment(p, [before, after]) > HAIR) kept.push(p);
  });
  return kept;
}

/** Where a ring may be opened without parting an arc: at the end of its longest side. */
function firstCorner(points: readonly At[]): number {
  const sides = points.map(([x, y], i) => {
    const [p, q] = points.at(i - 1) as At;
    return Math.hypot(x - p, y - q);
  });
  return Math.max(0, sides.indexOf(Math.max(...sides)));
}

/** How much the way from p over q to r turns at q, radians, from +x to +y. On a circle that is half the arc from p to r. */
function turnAt(p: At, q: At, r: At): number {
  const [ux, uy, vx, vy] = [q[0] - p[0], q[1] - p[1], r[0] - q[0], r[1] - q[1]];
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}

/** The last corner of the arc that begins at corner i; i + 1 where none does. What is more than half a circle is halved, so that no side is left over. */
function arcFrom(line: readonly At[], i: number): number {
  let end = i + 1;
  for (let j = i + LEAST_SIDES; j < line.length && isArc(line, i, j); j++) end = j;
  const turnTo = (j: number): number => Math.abs(2 * turnAt(line[i] as At, line[(i + j) >> 1] as At, line[j] as At));
  while (end > i + 1 && turnTo(end) > Math.PI + 1e-6) end = i + ((end - i) >> 1);
  const turned = end > i + 1 && turnTo(end);
  return turned && turned >= (LEAST_TURN * Math.PI) / 180 ? end : i + 1;
}

function isArc(line: readonly At[], i: number, j: number): boolean {
  const [a, m, b] = [line[i] as At, line[(i + j) >> 1] as At, line[j] as At];
  const [ux, uy, vx, vy] = [m[0] - a[0], m[1] - a[1], b[0] - a[0], b[1] - a[1]];
  const det = 2 * (ux * vy - uy * vx);
  if (Math.abs(det) < 1e-9) return false;
  const [u, v] = [ux * ux + uy * uy, vx * vx + vy * vy];
  const [cx, cy] = [a[0] + (u * vy - v * uy) / det, a[1] + (v * ux - u * vx) / det];
  const radius = Math.hypot(a[0] - cx, a[1] - cy);
  for (let k = i + 1; k < j; k++) {
    const [p, q, r] = [line[k - 1] as At, line[k] as At, line[k + 1] as At];
    if (Math.abs(Math.hypot(q[0] - cx, q[1] - cy) - radius) > ON_CIRCLE) return false;
    const turn = turnAt(p, q, r) * Math.sign(det);
    if (turn <= 0 || turn > (LEAST_FINE * Math.PI) / 180) return false;
  }
  return true;
}
