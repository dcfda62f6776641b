import type { Polygon } from '../geometry';
import type { Stretch } from '../grain';
import { type Job, type Placement, wantedTop } from '../job';
import { InputProblem } from '../units';
import { measured, type SeamPlace, seamed } from './placement';
import { grainOfPairs } from './seam-grain';
import { seamLook } from './seam-look';
import type { Refusal } from './sound';
import { type FaceStock, type Pictures, prepareStock, stockOf } from './stock';
import { type EdgeMove, movedEdge, sizeAlong, stripMap } from './strips';

/** How a joint line is moved by hand on one of its two slabs. The other slab's line and the depth of the whole top stay. */
export interface JointMove extends EdgeMove {
  /** The slab whose line moves: 0 in front of the joint, 1 behind it. */
  readonly side: 0 | 1;
}

/** A seamed placement laid ready, so that its joint can be dragged without preparing its slabs at every move. */
export interface JointBench {
  /** The placement with one joint line moved from where it was when the bench was made, or what the move would break. */
  move(move: JointMove): Placement | Refusal;
  /** The bench for another placement of the same job; at once where it has the same two faces, since the photos are already looked at. */
  onto(placement: Placement): JointBench;
}

/**
 * Lays a seamed placement ready. Dragging the line in front deepens that strip and narrows the one behind by as much; dragging the line
 * behind takes its strip along.
 * @throws InputProblem for a placement without a joint, or one whose slabs the job no longer holds
 */
export function jointBench(job: Job, placement: Placement, pictures: Pictures): JointBench {
  const stock = prepareStock(job, pictures);
  const grain = grainOfPairs(job.shop.kerf.rip);
  const onto = (placed: Placement): JointBench => ({ move: mover(job, placed, stock, grain), onto });
  return onto(placement);
}

function mover(
  job: Job,
  placement: Placement,
  stock: readonly FaceStock[],
  grain: ReturnType<typeof grainOfPairs>,
): Omit<JointBench, 'onto'> {
  const top = wantedTop(job, placement.top);
  const [front, behind] = placement.strips;
  const joint = placement.joints[0];
  const [inFront, inBack] = stockOf(placement.strips, stock) ?? [];
  if (!top || !front?.jointBack || !behind?.jointFront || !joint || !inFront || !inBack) {
    throw new InputProblem('There is no joint here to move.', `/tops/${placement.top}`, 'Lay the job out again.');
  }
  const [frontLine, backLine] = [front.jointBack, behind.jointFront];
  const depth = sizeAlong(stripMap(behind), behind.finished)[1];
  const look = seamLook(grain(inFront, inBack));
  return (move) => {
    const lines = {
      front: { stock: inFront, line: move.side === 0 ? movedEdge(frontLine, move) : frontLine },
      back: { stock: inBack, line: move.side === 1 ? movedEdge(backLine, move) : backLine },
    };
    const slide = joint.slide + (move.side === 1 ? move.slide : -move.slide);
    const seam: SeamPlace = { ...lines, ...look(lines), slide, flipped: joint.flipped };
    const made = seamed(seam, top, job.shop, depth - (move.side === 0 ? move.by : 0));
    return typeof made === 'string' ? made : measured(made, job.shop).placement;
  };
}
