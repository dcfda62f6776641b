import { type Affine, apply, type Segment } from '../geometry';
import type { Joint } from '../job';
import { mirroredLine } from './mirror';
import { type EdgeMove, movedEdge } from './strips';

/** What becomes of both lines of a joint when a hand moves one of them: a joint stays what it is made as. */

/** How a joint line is moved by hand on one of its two slabs. */
export interface JointMove extends EdgeMove {
  /** The slab whose line moves: 0 in front of the joint, 1 behind it. */
  readonly side: 0 | 1;
}

/** Both lines of a joint, each on its face, x of the top running from first point to second. */
export type Lines = readonly [front: Segment<'face'>, back: Segment<'face'>];

/** The mirror that carries one line onto another of the same length, end by end: two lines that are opened like a book hold it between them. */
function mirrorBetween([p, q]: Segment<'face'>, [r, s]: Segment<'face'>): Affine<'face', 'face'> {
  const turn = Math.atan2(q[1] - p[1], q[0] - p[0]) + Math.atan2(s[1] - r[1], s[0] - r[0]);
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  return { m: [cos, sin, sin, -cos, r[0] - cos * p[0] - sin * p[1], r[1] - sin * p[0] + cos * p[1]] };
}

/** A line turned about the middle of another of its face. */
function turnedAbout(line: Segment<'face'>, [a, b]: Segment<'face'>, degrees: number): Segment<'face'> {
  const t = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(t), Math.sin(t)];
  const [x, y] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  const turn: Affine<'face', 'face'> = {
    m: [cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y],
  };
  return [apply(turn, line[0]), apply(turn, line[1])];
}

/**
 * Both lines after one was moved. Of halves opened like a book the other line moves as the mirror image; the two edges of a rip turn together, so
 * that they stay parallel; the other line of a plain seam stays.
 */
export function movedLines(lines: Lines, made: Joint['made'], move: JointMove): Lines {
  const [own, other] = move.side === 0 ? lines : [lines[1], lines[0]];
  const moved = movedEdge(own, move);
  const follows = (): Segment<'face'> => {
    if (made === 'book') return [...mirroredLine(mirrorBetween(own, other), moved)];
    return made === 'reglued' ? turnedAbout(other, own, move.turn) : other;
  };
  return move.side === 0 ? [moved, follows()] : [follows(), moved];
}

/** A line drawn out, or cut, to reach from one distance from its first point to another, mm. */
export function drawnOut([p, q]: Segment<'face'>, from: number, to: number): Segment<'face'> {
  const length = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const [x, y] = [(q[0] - p[0]) / length, (q[1] - p[1]) / length];
  return [
    [p[0] + from * x, p[1] + from * y],
    [p[0] + to * x, p[1] + to * y],
  ];
}
