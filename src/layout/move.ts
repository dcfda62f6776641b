import { apply, invert, type Segment } from '../geometry';
import type { Job, Placement, Strip } from '../job';
import { InputProblem } from '../units';
import { measured, type SeamPlace, seamed } from './placement';
import { seamLook } from './seam-look';
import type { Refusal } from './sound';
import { type FaceStock, type Pictures, prepareStock } from './stock';
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

/** The line moved as asked. */
function moved(line: Segment<'face'>, { by, turn, slide }: JointMove): Segment<'face'> {
  const toFace = invert(layEdge(line, 0));
  const length = Math.hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]);
  const t = (turn * Math.PI) / 180;
  const half = length / 2;
  const end = (sign: 1 | -1) => [half + slide + sign * half * Math.cos(t), by + sign * half * Math.sin(t)] as const;
  return [apply(toFace, end(-1)), apply(toFace, end(1))];
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
  const looks = new Map<string, ReturnType<typeof seamLook>>();
  const look = (inFront: FaceStock, inBack: FaceStock) => {
    const pair = `${inFront.key} ${inBack.key}`;
    const known = looks.get(pair) ?? seamLook(inFront, inBack, job.shop.kerf.rip);
    looks.set(pair, known);
    return known;
  };
  const onto = (placed: Placement): JointBench => ({ move: mover(job, placed, stock, look), onto });
  return onto(placement);
}

function mover(
  job: Job,
  placement: Placement,
  stock: readonly FaceStock[],
  lookOf: (inFront: FaceStock, inBack: FaceStock) => ReturnType<typeof seamLook>,
): JointBench['move'] {
  const top = job.tops[placement.top];
  const [front, behind] = placement.strips;
  const joint = placement.joints[0];
  const find = (strip: Strip | undefined) =>
    stock.find((s) => s.flitch.id === strip?.flitch && s.slab.id === strip.slab && s.face === strip.face);
  const [inFront, inBack] = [find(front), find(behind)];
  if (!top || !front?.jointBack || !behind?.jointFront || !joint || !inFront || !inBack) {
    throw new InputProblem('There is no joint here to move.', `/tops/${placement.top}`, 'Lay the job out again.');
  }
  const [frontLine, backLine] = [front.jointBack, behind.jointFront];
  const depth = sizeAlong(stripMap(behind), behind.finished)[1];
  const look = lookOf(inFront, inBack);
  return (move) => {
    const lines = {
      front: { stock: inFront, line: move.side === 0 ? moved(frontLine, move) : frontLine },
      back: { stock: inBack, line: move.side === 1 ? moved(backLine, move) : backLine },
    };
    const slide = joint.slide + (move.side === 1 ? move.slide : -move.slide);
    const seam: SeamPlace = { ...lines, ...look(lines), slide, flipped: joint.flipped };
    const made = seamed(seam, top, job.shop, depth - (move.side === 0 ? move.by : 0));
    return typeof made === 'string' ? made : measured(made, job.shop).placement;
  };
}
