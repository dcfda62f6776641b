import { type FaceFeatures, type JointSide, jointCost, readSide } from '../grain';
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
  readonly #read: readonly [Map<number, ReadLine>, Map<number, ReadLine>] = [new Map(), new Map()];

  constructor(
    readonly front: SeamSide,
    readonly back: SeamSide,
    readonly limits: { readonly slide: number; readonly degrees: number },
  ) {}

  get length(): number {
    return this.front.room.wish.length;
  }

  /** Whether strips on these lines make the top, and the limits are held. */
  fits(pair: Pair): boolean {
    const { front, back } = pair;
    const { slide, degrees } = this.limits;
    if (Math.abs(front.degrees) > degrees + 1e-9 || Math.abs(back.degrees) > degrees + 1e-9) return false;
    if (Math.abs(slideOf(pair, [this.front.middle, this.back.middle])) > slide + 1e-9) return false;
    const inFront = this.#line(0, front).depths;
    if (!inFront || inFront[0] < this.front.room.wish.leastStrip) return false;
    const behind = this.#line(1, back).depths;
    return behind !== null && makesTop(inFront, behind, this.front.room.wish);
  }

  /** Cost of a pair; Infinity where it does not fit. */
  cost(pair: Pair): number {
    if (!this.fits(pair)) return Infinity;
    this.evaluated++;
    return jointCost(this.#side(0, pair.front), this.#side(1, pair.back), this.front.features.kin);
  }

  #side(side: 0 | 1, place: LinePlace): JointSide {
    const line = this.#line(side, place);
    if (line.side) return line.side;
    const [p, q] = lineAt(place, this.length);
    const { features } = side === 0 ? this.front : this.back;
    line.side = readSide(features, p[0], p[1], q[0], q[1], side === 1);
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
const REMEMBERED = 400;

/** One number for a line on a slab, to 1/32 mm and 1/160 degree: nearer lines are one. Lines run within 45 degrees, middles over the slab. */
function keyOf({ x, y, degrees, way }: LinePlace, { minX, minY }: SeamRoom): number {
  const along = Math.round((x - minX) * 32) * 2 ** 17 + Math.round((y - minY) * 32);
  return (along * 2 ** 14 + Math.round((degrees + 45.5) * 160)) * 2 + (way === 1 ? 1 : 0);
}
