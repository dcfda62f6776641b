import type { Polygon } from '../geometry';
import type { Stretch } from '../grain';
import { type Job, type Placement, type Shop, type Top, wantedTop } from '../job';
import { InputProblem } from '../units';
import type { Candidate } from './candidate';
import { asSawn, fitted, isFit, searchedLine } from './fitted';
import { joined } from './joined';
import { measured, type SeamPlace, seamed, topOutline } from './placement';
import { searchedTop } from './sawn';
import { grainOfPairs } from './seam-grain';
import { seamLook } from './seam-look';
import type { Refusal } from './sound';
import { type FaceStock, type Pictures, prepareStock, stockOf } from './stock';
import { type EdgeMove, frontDepth, layEdge, movedEdge, sizeAlong, stripMap } from './strips';

/** How a joint line is moved by hand on one of its two slabs. The other slab's line and the depth of the whole top stay. */
export interface JointMove extends EdgeMove {
  /** The slab whose line moves: 0 in front of the joint, 1 behind it. */
  readonly side: 0 | 1;
}

/** A placement with one joint line moved, and how it then looks. It is laid as drawn, whether it can be sawn or not. */
export interface MovedJoint {
  /** What a search would refuse it for; null where it can be had. */
  readonly refusal: Refusal | null;
  /** Its thickness is the quick sieve's, which is rather too much than too little: `settled` measures it. */
  readonly placement: Placement;
  /** The finished top's outline. */
  readonly outline: Polygon<'top'>;
  /** Stretches of the seam from its right-hand end, mm; null where a face has no picture. */
  readonly along: readonly Stretch[] | null;
}

/** A seamed placement laid ready, so that its joint can be dragged without preparing its slabs at every move. */
export interface JointBench {
  /** The placement with one joint line moved from where it was when the bench was made; null where the line leaves the wood. */
  move(move: JointMove): MovedJoint | null;
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
      const searched = searchedTop(top);
      const width = depth - (move.side === 0 ? move.by : 0);
      const made = seamed(seam, searched, job.shop, width);
      const sound = typeof made === 'string' ? made : fitted(made, top, job.shop);
      if (typeof sound !== 'string' && isFit(sound)) return moved(sound, null, along);
      const drawn = asDrawn(seam, searched, job.shop, width);
      const sawn = drawn && asSawn(drawn, top, job.shop);
      return sawn && moved(sawn, typeof sound === 'string' ? sound : sound.why, along);
    },
    settled: (moved) => measured({ top, placement: moved, stock: [inFront, inBack] }, job.shop).placement,
    along: () => look(linesOf(STILL)).along,
  };
}

const moved = ({ placement }: Candidate, refusal: Refusal | null, along: MovedJoint['along']): MovedJoint => ({
  refusal,
  placement,
  outline: topOutline(placement),
  along,
});

/** The two strips of a seam where a hand put them; null where the joint leaves the wood in front or nothing is left of a strip. */
function asDrawn(seam: SeamPlace, top: Top, shop: Shop, behind: number): Candidate | null {
  const { front, back, blend, lines, slide, flipped } = seam;
  const wood = frontDepth(front.stock, layEdge(front.line, 0), 0, top.length);
  if (!wood) return null;
  const straight = top.depth[1] - behind;
  const [least, most] = top.front === 'live' ? wood : [straight, straight];
  if (most <= 0 || behind <= 0) return null;
  const strips = [
    { ...front, depth: most },
    { ...back, depth: behind },
  ];
  const joints = [{ blend, lines, slide, flipped }];
  const made = joined({ strips, joints, swing: most - least, asDrawn: true }, top, shop);
  return typeof made === 'string' ? null : made;
}

const STILL: JointMove = { side: 0, by: 0, turn: 0, slide: 0 };
