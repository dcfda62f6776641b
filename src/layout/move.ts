import type { Polygon } from '../geometry';
import type { Stretch } from '../grain';
import { type Job, type Placement, wantedTop } from '../job';
import { InputProblem } from '../units';
import { fitted, isFit, searchedLine } from './fitted';
import { measured, type SeamPlace, seamed, topOutline } from './placement';
import { searchedTop } from './sawn';
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

/** A placement with one joint line moved, and how it then looks. */
export interface MovedJoint {
  /** Its thickness is the quick sieve's, which is rather too much than too little: `settled` measures it. */
  readonly placement: Placement;
  /** The finished top's outline. */
  readonly outline: Polygon<'top'>;
  /** Stretches of the seam from its right-hand end, mm; null where a face has no picture. */
  readonly along: readonly Stretch[] | null;
}

/** A seamed placement laid ready, so that its joint can be dragged without preparing its slabs at every move. */
export interface JointBench {
  /** The placement with one joint line moved from where it was when the bench was made, or what the move would break. */
  move(move: JointMove): MovedJoint | Refusal;
  /** A moved placement with its thickness by the model of warp, as a plan promises it: too slow for every frame of a drag. */
  settled(placement: Placement): Placement;
  /** The seam as it is, stretch by stretch; null where a face has no picture. */
  along(): readonly Stretch[] | null;
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
  const onto = (placed: Placement): JointBench => ({ ...benchOf(job, placed, stock, grain), onto });
  return onto(placement);
}

function benchOf(
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
  const [frontLine, backLine] = [
    searchedLine(front, front.jointBack, top),
    searchedLine(behind, behind.jointFront, top),
  ];
  const depth = sizeAlong(stripMap(behind), behind.finished)[1];
  const look = seamLook(grain(inFront, inBack));
  const linesOf = (move: JointMove) => ({
    front: { stock: inFront, line: move.side === 0 ? movedEdge(frontLine, move) : frontLine },
    back: { stock: inBack, line: move.side === 1 ? movedEdge(backLine, move) : backLine },
  });
  return {
    move(move) {
      const lines = linesOf(move);
      const { along, ...looks } = look(lines);
      const slide = joint.slide + (move.side === 1 ? move.slide : -move.slide);
      const seam: SeamPlace = { ...lines, ...looks, slide, flipped: joint.flipped };
      const made = seamed(seam, searchedTop(top), job.shop, depth - (move.side === 0 ? move.by : 0));
      if (typeof made === 'string') return made;
      const fit = fitted(made, top, job.shop);
      if (!isFit(fit)) return fit.why;
      return { placement: fit.placement, outline: topOutline(fit.placement), along };
    },
    settled: (moved) => measured({ top, placement: moved, stock: [inFront, inBack] }, job.shop).placement,
    along: () => look(linesOf(STILL)).along,
  };
}

const STILL: JointMove = { side: 0, by: 0, turn: 0, slide: 0 };
