import { type FaceFeatures, type JointSide, jointCost, readSide } from '../grain';
import { type LinePlace, lineAt, makesTop, type SeamRoom } from './seam-room';

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

/** Two slabs and the limits of the seam between them. */
export class SeamBench {
  evaluated = 0;
  readonly #read: readonly [Map<string, JointSide>, Map<string, JointSide>] = [new Map(), new Map()];

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
    const { wish } = this.front.room;
    const inFront = this.front.room.depths(front, frontKeepsMore(front), wish.front === 'live');
    if (!inFront || inFront[0] < wish.leastStrip) return false;
    const behind = this.back.room.depths(back, backKeepsMore(back), false);
    return behind !== null && makesTop(inFront, behind, wish);
  }

  /** Cost of a pair; Infinity where it does not fit. */
  cost(pair: Pair): number {
    if (!this.fits(pair)) return Infinity;
    this.evaluated++;
    return jointCost(this.#edge(0, pair.front), this.#edge(1, pair.back), this.front.features.kin);
  }

  #edge(side: 0 | 1, place: LinePlace): JointSide {
    const key = `${place.x.toFixed(3)} ${place.y.toFixed(3)} ${place.degrees.toFixed(4)} ${place.way}`;
    const known = this.#read[side].get(key);
    if (known) return known;
    const [p, q] = lineAt(place, this.length);
    const { features } = side === 0 ? this.front : this.back;
    const edge = readSide(features, p[0], p[1], q[0], q[1], side === 1);
    if (this.#read[side].size >= REMEMBERED) this.#read[side].clear();
    this.#read[side].set(key, edge);
    return edge;
  }
}

/** Lines that are kept read: enough for the grid of one step, and within some tens of megabytes. */
const REMEMBERED = 400;
