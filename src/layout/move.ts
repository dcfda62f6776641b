import { apply, invert, type Segment } from '../geometry';
import type { Job, Placement } from '../job';
import { measured, type SeamPlace, seamed } from './placement';
import type { Refusal } from './sound';
import type { FaceStock } from './stock';
import { layEdge, sizeAlong, stripMap } from './strips';

/** How a joint line is moved by hand on one of its two slabs. The other slab's line and the depth of the whole top stay. */
export interface JointMove {
  /** The slab whose line moves: 0 in front of the joint, 1 behind it. */
  readonly side: 0 | 1;
  /** Towards the back of the top, mm. */
  readonly by: number;
  /** About the line's middle, degrees from +x to +y of the face. */
  readonly turn: number;
  /** Along the joint, mm, in the direction of the top's x. */
  readonly slide: number;
}

/** How a seam looks, measured on the two faces; null where a face has no picture. */
export type SeamLook = (
  seam: Pick<SeamPlace, 'front' | 'back'>,
) => { readonly blend: number; readonly lines: number } | null;

/** The line moved as asked. */
function moved(line: Segment<'face'>, { by, turn, slide }: JointMove): Segment<'face'> {
  const toFace = invert(layEdge(line, 0));
  const length = Math.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]);
  const t = (turn * Math.PI) / 180;
  const half = length / 2;
  const end = (sign: 1 | -1) => [half + slide + sign * half * Math.cos(t), by + sign * half * Math.sin(t)] as const;
  return [apply(toFace, end(-1)), apply(toFace, end(1))];
}

/**
 * A seamed placement with one of its joint lines moved by hand, measured anew. Dragging the line in front deepens that strip and narrows the one behind by as
 * much; dragging the line behind takes its strip along.
 * @param stock the faces of the placement's two strips
 * @returns the placement, or what the move would break
 * @throws RangeError for a placement that has no joint
 */
export function moveJoint(
  job: Job,
  placement: Placement,
  stock: readonly [FaceStock, FaceStock],
  move: JointMove,
  look: SeamLook,
): Placement | Refusal {
  const top = job.tops[placement.top];
  const [front, behind] = placement.strips;
  const joint = placement.joints[0];
  if (!top || !front?.jointBack || !behind?.jointFront || !joint)
    throw new RangeError('This placement has no joint to move.');
  const frontLine = move.side === 0 ? moved(front.jointBack, move) : front.jointBack;
  const backLine = move.side === 1 ? moved(behind.jointFront, move) : behind.jointFront;
  const depth = sizeAlong(stripMap(behind), behind.finished)[1];
  const lines = { front: { stock: stock[0], line: frontLine }, back: { stock: stock[1], line: backLine } };
  const seen = look(lines);
  const seam: SeamPlace = {
    ...lines,
    blend: seen?.blend ?? null,
    lines: seen?.lines ?? null,
    slide: joint.slide + (move.side === 1 ? move.slide : -move.slide),
    flipped: joint.flipped,
  };
  const made = seamed(seam, top, job.shop, depth - (move.side === 0 ? move.by : 0));
  if (typeof made === 'string') return made;
  return measured(made, job.shop).placement;
}
