import { type FaceFigure, type Kinship, ringsBetween } from './drift';
import { LIES, type Lie, type RingCourse } from './drift-types';

/** Less likeness than this is other wood, or wood without figure. */
export const UNKNOWN = 0.1;
/** No more than so many cuts are thought of between two leaves. */
const MOST_CUTS = 3;

/** Pairs less alike than this share of the most alike one tell nothing of the board's rings. */
const ALIKE = 0.75;

/** How two leaves stand to each other. */
export interface LeafPair {
  readonly kinship: number;
  readonly lie: Lie;
  /** How many cuts the second lies behind the first; less than 0: before it. */
  readonly cuts: number;
}

/**
 * What is found of pairs of leaves, each asked once. Neighbours by number are held against each other freely; the most alike of them tell the rings'
 * course of the board, and by that all others: how far the figure has drifted then says how many cuts lie between.
 */
export class LeafPairs {
  /** From one leaf to the next, mm. */
  readonly #pitch: number;
  readonly #free: Kinship[] = [];
  readonly #pairs = new Map<string, LeafPair>();
  #course: { readonly leaf: number; readonly rings: RingCourse } | null = null;

  constructor(
    readonly figures: readonly FaceFigure[],
    readonly saw: { readonly thickness: number; readonly kerf: number },
  ) {
    this.#pitch = saw.thickness + saw.kerf;
  }

  /** Holds leaf i against the one numbered next. */
  next(i: number): void {
    const [a, b] = [this.figures[i] as FaceFigure, this.figures[i + 1] as FaceFigure];
    this.#free[i] = ringsBetween(a, b, 'same')(this.#pitch);
  }

  /**
   * Takes the board's rings from the neighbours that are alike: of those, the pair whose course is the middle one, since one with a leaf missing in
   * between shows them twice as deep.
   * @returns likeness that is usual between neighbours
   */
  settled(): number {
    const order = [...this.#free.keys()].sort((a, b) => this.#kin(b) - this.#kin(a));
    const best = this.#kin(order[0] as number);
    const better = order.slice(0, Math.ceil(order.length / 2)).filter((i) => this.#kin(i) >= ALIKE * best);
    const deep = (i: number) => {
      const all = (this.#free[i] as Kinship).rings.deep;
      return all.reduce((sum, d) => sum + d, 0) / all.length;
    };
    const middle = [...better].sort((a, b) => deep(a) - deep(b))[Math.floor((better.length - 1) / 2)] as number;
    this.#course = { leaf: middle, rings: (this.#free[middle] as Kinship).rings };
    return this.#kin(better[Math.floor(better.length / 2)] as number);
  }

  #kin(i: number): number {
    return (this.#free[i] as Kinship).kinship;
  }

  /** The pair as the rings tell it; other lies than the first are tried only where that leaves a doubt, less than `enough`. */
  between(a: number, b: number, enough: number): LeafPair {
    const key = `${a} ${b}`;
    const known = this.#pairs.get(key);
    if (known) return known;
    let best = this.#as(a, b, 'same');
    if (best.kinship < enough) {
      for (const lie of LIES.slice(1)) {
        // The course holds in the frame of leaves that lie as the most do: either of the two may be one that does not.
        const [one, other] = [this.#as(a, b, lie), this.#as(b, a, lie)];
        if (one.kinship > best.kinship) best = one;
        if (other.kinship > best.kinship) best = { ...other, cuts: -other.cuts };
      }
    }
    this.#pairs.set(key, best);
    this.#pairs.set(`${b} ${a}`, { ...best, cuts: -best.cuts });
    return best;
  }

  #as(a: number, b: number, lie: Lie): LeafPair {
    const ask = ringsBetween(this.figures[a] as FaceFigure, this.figures[b] as FaceFigure, lie);
    let best: LeafPair = { kinship: -1, lie, cuts: 1 };
    // Of two leaves one of which shows its other face, that face lies a leaf's thickness nearer or farther.
    const more = lie === 'over' || lie === 'over end for end' ? [this.saw.thickness, -this.saw.thickness] : [0];
    for (let k = 1; k <= MOST_CUTS; k++) {
      for (const cuts of [k, -k]) {
        for (const by of more) {
          const { kinship } = ask(cuts * this.#pitch + by, this.#courseFor(a));
          if (kinship > best.kinship) best = { kinship, lie, cuts };
        }
      }
    }
    return best;
  }

  /** The board's rings as a leaf cuts them, if it lies where its number says. */
  #courseFor(leaf: number): RingCourse {
    const { leaf: from, rings } = this.#course as { leaf: number; rings: RingCourse };
    return { ...rings, deep: rings.deep.map((d) => d - (leaf - from) * this.#pitch) };
  }
}
