import { applyAll, invert, type Polygon, type Segment } from '../geometry';
import { type Stretch, scoreJoint } from '../grain';
import { type Job, type Joint, type Placement, type Shop, type Strip, type Top, wantedTop } from '../job';
import type { Control } from '../search';
import { InputProblem } from '../units';
import { alikeInDepth, slideOf } from './book';
import type { Candidate } from './candidate';
import { asSawn, fitted, isFit } from './fitted';
import { joined } from './joined';
import { linesAfter, placesNear } from './joint-again';
import { drawnOut, type JointMove, type Lines } from './moved-lines';
import { asItLooks } from './piece-looks';
import { measured, type SeamPlace, seamed, topOutline } from './placement';
import { inPieces, laidAs, startIn } from './runs';
import { searchedTop } from './sawn';
import { grainOfPairs } from './seam-grain';
import { type Look, seamLook } from './seam-look';
import type { Refusal } from './sound';
import { type FaceStock, type Pictures, prepareStock, stockOf } from './stock';
import { type EdgeLine, frontDepth, layEdge, sizeAlong, stripMap } from './strips';

/** A placement with one joint line moved, and how it then looks. It is laid as drawn, whether it can be sawn or not. */
export interface MovedJoint {
  /** What a search would refuse it for; null where it can be had. */
  readonly refusal: Refusal | null;
  /** Its thickness follows the quick sieve from what the plan promises where the joint is: `settled` measures it. */
  readonly placement: Placement;
  /** The finished top's outline. */
  readonly outline: Polygon<'top'>;
  /** Stretches of the seam from its right-hand end, mm; null where a face has no picture. */
  readonly along: readonly Stretch[] | null;
  /** Tops of the same run that are cut from the same strips: their joint is the same line, and has moved along. */
  readonly others: readonly Pick<MovedJoint, 'placement' | 'outline'>[];
}

/** A seamed placement laid ready, so that its joint can be dragged without preparing its slabs at every move. */
export interface JointBench {
  /** The placement with one joint line moved from where it was when the bench was made; null where the line leaves the wood. */
  move(move: JointMove): MovedJoint | null;
  /**
   * The joint as it is found again within half of the wood that is left beside it and at its ends, best first, itself among them: for pictures of the flat faces, since
   * planing moves the figure. All can be sawn, by what the search knows.
   * @throws Cancelled
   * @throws InputProblem where a face has no picture
   */
  again(control: Control): Promise<readonly MovedJoint[]>;
  /** Moved placements of the top and its run, their thickness by the model of warp, as a plan promises it: too slow for every frame of a drag. */
  settled(moved: MovedJoint): readonly Placement[];
  /** The seam as it is, stretch by stretch; null where a face has no picture. */
  along(): readonly Stretch[] | null;
  /** The bench for another placement of the same job; at once where it has the same two faces, since the photos are already looked at. */
  onto(placement: Placement): JointBench;
}

/**
 * Lays a seamed placement ready. Dragging the line in front deepens that strip and narrows the one behind by as much; dragging the line behind
 * takes its strip along. What the joint is made as stays: halves opened like a book keep their depth and their mirror, and the edges of a rip stay
 * parallel. A joint that goes on through a run is moved in all of it.
 * @throws InputProblem for a placement without a joint or with several, or one whose slabs the job no longer holds
 */
export function jointBench(job: Job, placement: Placement, pictures: Pictures): JointBench {
  const stock = prepareStock(job, pictures);
  const grain = grainOfPairs(job.shop.kerf.fine);
  const onto = (placed: Placement): JointBench => ({ ...benchOf(job, placed, stock, grain), onto });
  return onto(placement);
}

function benchOf(
  job: Job,
  placement: Placement,
  stock: readonly FaceStock[],
  grain: ReturnType<typeof grainOfPairs>,
): Omit<JointBench, 'onto'> {
  const { shop } = job;
  const [own, top] = [wantedTop(job, placement.top), laidAs(job, placement.top)];
  const [front, behind] = placement.strips;
  const joint = placement.joints[0];
  const [inFront, inBack] = stockOf(placement.strips, stock) ?? [];
  if (!own || !top || !front?.jointBack || !behind?.jointFront || !joint || !inFront || !inBack) {
    throw new InputProblem('There is no joint here to move.', `/tops/${placement.top}`, 'Lay the job out again.');
  }
  if (placement.strips.length > 2) {
    throw new InputProblem(
      'Joints of more than two strips are not moved by hand.',
      `/tops/${placement.top}`,
      'Lay the job out again, or lock what is to stay.',
    );
  }
  const still = [lineOf(front, front.jointBack, own), lineOf(behind, behind.jointFront, own)] as const;
  const depth = sizeAlong(stripMap(behind), behind.finished)[1];
  const looks = grain(inFront, inBack);
  const look = seamLook(looks);
  const start = startIn(top, own.id, shop);
  const searched = searchedTop(top);
  /** From end to end of the wood that is laid for `of`, whatever its ends and shape cut from it. */
  const boxed = ([a, b]: readonly [Segment<'face'>, Segment<'face'>], { scribe, length }: Top, from: number) => {
    const line = (of: Segment<'face'>) => drawnOut(of, -scribe.right - from, length + scribe.left - from);
    return { front: { stock: inFront, line: line(a) }, back: { stock: inBack, line: line(b) } };
  };
  const alone = (made: Candidate, ownLook: Look): Candidate[] | null => {
    const whole = inPieces(made, shop);
    if (!whole?.pieces) return whole && [whole];
    return whole.pieces.map((piece) =>
      piece.top.id === own.id
        ? withJoint(piece, { blend: ownLook.blend, lines: ownLook.lines })
        : asItLooks(piece, () => look),
    );
  };
  const sum = (of: readonly number[]): number => of.reduce((a, b) => a + b, 0);
  /** Depth of the strip behind: a line in front that moves takes from it what it gives to its own. */
  const width = (moves: readonly JointMove[]): number =>
    depth - sum(moves.map(({ side, by }) => (side === 0 ? by : 0)));
  /** Depth of a half that is opened like a book: its outer edge stays where it is on the wood, unless both are straight, when the top keeps its depth. */
  const half = (moves: readonly JointMove[]): number =>
    depth + (top.front === 'straight' ? 0 : sum(moves.map(({ side, by }) => (side === 0 ? by : -by))));
  /** The top on lines that were moved one after the other. */
  const laidBy = (...moves: readonly JointMove[]): MovedJoint | null => {
    const moved = linesAfter(still, joint.made, moves);
    const ownLook = look(boxed(moved, own, 0));
    const seam: SeamPlace = {
      ...boxed(moved, top, start),
      blend: ownLook.blend,
      lines: ownLook.lines,
      slide: joint.slide + sum(moves.map(({ side, slide }) => (side === 1 ? slide : -slide))),
      flipped: joint.flipped,
    };
    const { made, drawn } =
      joint.made === 'book' ? booked(seam, searched, shop, half(moves)) : plainly(seam, searched, shop, width(moves));
    const sound = typeof made === 'string' ? made : fitted(made, top, shop);
    const fits = typeof sound !== 'string' && isFit(sound);
    const hand = fits ? null : drawn();
    const asIs = fits ? sound : hand && asSawn(hand, top, shop);
    const pieces = asIs && alone(withJoint(asIs, madeAs(joint)), ownLook);
    const held = pieces?.find((piece) => piece.top.id === own.id);
    if (!pieces || !held) return null;
    const shown = ({ placement: of }: Candidate) => ({ placement: of, outline: topOutline(of) });
    return {
      refusal: fits ? null : typeof sound === 'string' ? sound : sound.why,
      ...shown(held),
      along: ownLook.along,
      others: pieces.filter((piece) => piece !== held).map(shown),
    };
  };
  let sieved: number | null | undefined;
  /** A thickness by the sieve, less what the sieve says too much of the joint where it is. */
  const asPromised = (moved: Placement): Placement => {
    if (sieved === undefined) sieved = laidBy()?.placement.thickness ?? null;
    const { thickness } = moved;
    if (thickness === null || sieved === null || placement.thickness === null) return moved;
    return { ...moved, thickness: thickness - sieved + placement.thickness };
  };
  return {
    move: (move) => {
      const moved = laidBy(move);
      return moved && { ...moved, placement: asPromised(moved.placement) };
    },
    async again(control) {
      if (!looks) {
        throw new InputProblem(
          'A joint is found again by pictures of both faces, and one has none.',
          `/tops/${own.id}`,
          'Photograph both flat faces and read the photos.',
        );
      }
      const cost = (lines: Lines): number => {
        // A run's joint is looked at in all of it: it is one line.
        const { front: f, back: b } = boxed(lines, top, start);
        return scoreJoint(looks[0], { line: f.line, keeps: 'right' }, looks[1], { line: b.line, keeps: 'left' }).cost;
      };
      const reach = { across: shop.jointAllowance / 2, along: shop.endAllowance / 2 };
      const places = await placesNear(still, joint.made, cost, reach, control);
      return places.flatMap((moves) => laidBy(...moves) ?? []).filter(({ refusal }) => refusal === null);
    },
    settled: ({ placement: of, others }) => {
      // The pieces of a run are one board until they are parted, when it is flat: the thinnest of them is that of all.
      const placed = [of, ...others.map((one) => one.placement)];
      const thick = placed.map(
        (one) => measured({ top: own, placement: one, stock: [inFront, inBack] }, shop).placement,
      );
      const known = thick.flatMap(({ thickness }) => thickness ?? []);
      return thick.map((one) => ({ ...one, thickness: known.length > 0 ? Math.min(...known) : null }));
    },
    along: () => look(boxed(still, own, 0)).along,
  };
}

/** A joint line of a placed strip over the length of its top, whatever the top's ends cut from it. */
function lineOf(strip: Strip, line: Segment<'face'>, { length }: Top): Segment<'face'> {
  const map = stripMap(strip);
  const y = applyAll(map, line)[0]?.[1] ?? 0;
  const [p, q] = applyAll(invert(map), [
    [0, y],
    [length, y],
  ]);
  return [p, q] as Segment<'face'>;
}

/** A strip is measured on the clipped polygon, whose corners stand on whole micrometres: two of them, mm, are no fault. */
const ROUNDING = 0.002;

/** What a joint is beside a seam: that stays, whoever moves it. */
const madeAs = ({ made, ripped }: Joint): Partial<Joint> => ({ ...(made && { made }), ...(ripped && { ripped }) });

const withJoint = (candidate: Candidate, joint: Partial<Joint>): Candidate => {
  const { placement } = candidate;
  return { ...candidate, placement: { ...placement, joints: placement.joints.map((one) => ({ ...one, ...joint })) } };
};

/** A top on moved lines as a search lays it, or why none would; and as the hand drew it, null where nothing is left to draw. */
interface Laid {
  readonly made: Candidate | Refusal;
  drawn(): Candidate | null;
}

function plainly(seam: SeamPlace, top: Top, shop: Shop, behind: number): Laid {
  return {
    made: seamed(seam, top, shop, behind),
    drawn() {
      const wood = woodInFront(seam.front, top);
      const straight = top.depth[1] - behind;
      const depth = top.front === 'live' ? wood : ([straight, straight] as const);
      return wood && depth && asDrawn(seam, top, shop, depth, behind);
    },
  };
}

/** Two halves opened like a book on moved lines. */
function booked(seam: SeamPlace, top: Top, shop: Shop, half: number): Laid {
  const { front, back } = seam;
  const slid = { ...seam, ...slideOf(seam, [front.stock, back.stock]) };
  const wood = woodInFront(front, top);
  const live = top.front === 'live';
  const depth = live ? wood : ([half, half] as const);
  const unfit = (): Refusal | null => {
    if (!wood || !depth) return 'wood';
    if (Math.min(depth[0], half) < top.leastStrip) return 'strip';
    return alikeInDepth(depth, half) &&
      depth[0] + half >= top.depth[0] - ROUNDING &&
      depth[1] + half <= top.depth[1] + ROUNDING
      ? null
      : 'depth';
  };
  return {
    made: unfit() ?? joined(jointed(slid, depth as readonly [number, number], half, false), top, shop),
    drawn: () => wood && depth && asDrawn(slid, top, shop, depth, half),
  };
}

const woodInFront = ({ stock, line }: EdgeLine, top: Top): readonly [number, number] | null =>
  frontDepth(stock, layEdge(line, 0), 0, top.length);

const jointed = (
  { front, back, blend, lines, slide, flipped }: SeamPlace,
  depth: readonly [least: number, most: number],
  behind: number,
  drawn: boolean,
) => ({
  strips: [
    { ...front, depth: depth[1] },
    { ...back, depth: behind },
  ],
  joints: [{ blend, lines, slide, flipped }],
  swing: depth[1] - depth[0],
  asDrawn: drawn,
});

/** The two strips of a seam where a hand put them; null where nothing is left of a strip. */
function asDrawn(
  seam: SeamPlace,
  top: Top,
  shop: Shop,
  depth: readonly [least: number, most: number],
  behind: number,
): Candidate | null {
  if (depth[1] <= 0 || behind <= 0) return null;
  const made = joined(jointed(seam, depth, behind, true), top, shop);
  return typeof made === 'string' ? null : made;
}
