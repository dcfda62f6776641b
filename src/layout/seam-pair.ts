import { type FaceFeatures, type JointSide, jointCost, SidesOfFace } from '../grain';
import { type Depths, type LinePlace, lineAt, makesTop, type SeamRoom } from './seam-room';

/** One slab in a search: what it looks like and what wood it has. */
export interface SeamSide {
  readonly features: FaceFeatures;
  readonly room: SeamRoom;
  /** x of the face from which the slide is counted, and about which the second slab is turned end for end. */
  readonly middle: number;
}

/** Both joint lines of a seam. The front slab keeps the right of its line, the one behind the left. */
export interface Pair {
  readonly front: LinePlace;
  readonly back: LinePlace;
}

/** A pair with what the search minimises. */
export interface Scored extends Pair {
  readonly cost: number;
}

/** The kept side of the front slab lies at more y when its line runs against x, that of the slab behind when it runs with x. */
export const frontKeepsMore = ({ way }: LinePlace): boolean => way === -1;
export const backKeepsMore = ({ way }: LinePlace): boolean => way === 1;

/** How far the slab behind moves along the front one's line. */
export function slideOf({ front, back }: Pair, middles: readonly [number, number]): number {
  const turned = front.way * back.way;
  return front.way * (front.x - middles[0] - turned * (back.x - middles[1])) || 0;
}

/** Wood beside a line for a strip that is wide enough, and, live in front, leaves room for one behind; null where there is none. */
export function stripDepths({ room }: SeamSide, side: 'front' | 'back', place: LinePlace): Depths | null {
  const { leastStrip, front, depth } = room.wish;
  const live = side === 'front' && front === 'live';
  const depths = room.depths(place, side === 'front' ? frontKeepsMore(place) : backKeepsMore(place), live);
  if (!depths || depths[0] < leastStrip || (live && depths[1] > depth[1] - leastStrip)) return null;
  return depths;
}

/** A line read once: the wood beside it, and what it looks like once that is asked for. */
interface ReadLine {
  readonly depths: Depths | null;
  side: JointSide | null;
}

/** Two slabs and the limits of the seam between them. */
export class SeamBench {
  evaluated = 0;
  readonly #sides: readonly [SidesOfFace, SidesOfFace];
  readonly #middles: readonly [number, number];
  readonly #read: readonly [Map<number, ReadLine>, Map<number, ReadLine>] = [new Map(), new Map()];

  constructor(
    readonly front: SeamSide,
    readonly back: SeamSide,
    readonly limits: { readonly slide: number; readonly degrees: number },
  ) {
    this.#sides = [new SidesOfFace(front.features, false), new SidesOfFace(back.features, true)];
    this.#middles = [front.middle, back.middle];
  }

  get length(): number {
    return this.front.room.wish.length;
  }

  /** Whether strips on these lines make the top, and the limits are held. */
  fits(pair: Pair): boolean {
    return this.#fit(pair, this.#line(0, pair.front).depths, this.#line(1, pair.back).depths);
  }

  #fit(pair: Pair, inFront: Depths | null, behind: Depths | null): boolean {
    const { slide, degrees } = this.limits;
    if (!inFront || !behind) return false;
    if (Math.max(Math.abs(pair.front.degrees), Math.abs(pair.back.degrees)) > degrees + 1e-9) return false;
    return Math.abs(slideOf(pair, this.#middles)) <= slide + 1e-9 && makesTop(inFront, behind, this.front.room.wish);
  }

  /** Cost of a pair; Infinity where it does not fit. */
  cost(pair: Pair): number {
    return this.best([pair.front], [pair.back], { ...pair, cost: Infinity }).cost;
  }

  /** The cheapest pair of a line in front and one behind that fits and costs less than `than`; else that. */
  best(fronts: readonly LinePlace[], backs: readonly LinePlace[], than: Scored): Scored {
    const { kin } = this.front.features;
    const behind = backs
      .map((place) => ({ place, line: this.#line(1, place) }))
      .filter(({ line }) => line.depths !== null);
    let best = than;
    for (const front of fronts) {
      const line = this.#line(0, front);
      if (!line.depths) continue;
      for (const back of behind) {
        const pair: Pair = { front, back: back.place };
        if (!this.#fit(pair, line.depths, back.line.depths)) continue;
        this.evaluated++;
        const cost = jointCost(this.#side(0, front, line), this.#side(1, back.place, back.line), kin);
        if (cost < best.cost - 1e-9) best = { ...pair, cost };
      }
    }
    return best;
  }

  #side(side: 0 | 1, place: LinePlace, line: ReadLine): JointSide {
    line.side ??= this.#sides[side].read(lineAt(place, this.length));
    return line.side;
  }

  #line(side: 0 | 1, place: LinePlace): ReadLine {
    const { room } = side === 0 ? this.front : this.back;
    if (!(place.x > room.minX && place.x < room.maxX && place.y > room.minY && place.y < room.maxY)) return NOWHERE;
    const key = keyOf(place, room);
    const read = this.#read[side];
    const known = read.get(key);
    if (known) return known;
    const depths =
      side === 0
        ? room.depths(place, frontKeepsMore(place), room.wish.front === 'live')
        : room.depths(place, backKeepsMore(place), false);
    const line: ReadLine = { depths, side: null };
    if (read.size >= REMEMBERED) read.clear();
    read.set(key, line);
    return line;
  }
}

const NOWHERE: ReadLine = { depths: null, side: null };

/** Lines that are kept read: enough for the grid of one step, and within some tens of megabytes. */
const REMEMBERED = 4000;

/** One number for a line on a slab, to 1/32 mm and 1/160 degree: nearer lines are one. Lines run within 45 degrees, middles over the slab. */
function keyOf({ x, y, degrees, way }: LinePlace, { minX, minY }: SeamRoom): number {
  const along = Math.round((x - minX) * 32) * 2 ** 17 + Math.round((y - minY) * 32);
  return (along * 2 ** 14 + Math.round((degrees + 45.5) * 160)) * 2 + (way === 1 ? 1 : 0);
}
