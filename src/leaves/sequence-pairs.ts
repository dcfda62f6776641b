import { type FaceFigure, type Kinship, likenessBy, ringsBetween } from './drift';
import { LIES, type Lie, type RingCourse } from './drift-types';

/** Less likeness than this is other wood, or wood without figure. */
export const UNKNOWN = 0.1;
/** No more than so many cuts are thought of between two leaves. */
const MOST_CUTS = 3;

/** Pairs less alike than this share of the most alike one tell nothing of the board's rings. */
const ALIKE = 0.75;

/** So many pairs, and of them so many that are alike, tell the board's rings; more are not looked at freely. */
const LOOKED = 6;
const TELLING = 3;
/** Neighbours that are less alike than this leave it open whether any two of those looked at are neighbours. */
const NEIGHBOURS = 0.25;
/** Other lies that are looked at closely, of those that show most by the rings as they are known. */
const CLOSELY = 2;

/** How two leaves stand to each other. */
export interface LeafPair {
  readonly kinship: number;
  readonly lie: Lie;
  /** How many cuts the second lies behind the first; less than 0: before it. */
  readonly cuts: number;
}

type Ask = ReturnType<typeof ringsBetween>;

/** One way in which two leaves may stand to each other: from which of them it is asked, and which of their numbers is believed. */
interface Way {
  readonly from: number;
  readonly to: number;
  readonly lie: Lie;
  readonly believed: number;
}

/**
 * What is found of pairs of leaves, each asked once. Neighbours by number are held against each other freely; the most alike of them tell the rings'
 * course of the board, and by that all others: how far the figure has drifted then says how many cuts lie between.
 */
export class LeafPairs {
  /** From one leaf to the next, mm. */
  readonly #pitch: number;
  readonly #free = new Map<number, Kinship>();
  readonly #pairs = new Map<string, LeafPair>();
  /** Neighbours as they lie, read while they were held against each other freely, until they are asked again. */
  readonly #read = new Map<string, Ask>();
  #course: { readonly leaf: number; readonly rings: RingCourse } | null = null;

  constructor(
    readonly figures: readonly FaceFigure[],
    readonly saw: { readonly thickness: number; readonly kerf: number },
  ) {
    this.#pitch = saw.thickness + saw.kerf;
  }

  /** Places of leaves to be held against the next, those far from each other first. */
  *untold(): Generator<number> {
    const count = this.figures.length - 1;
    for (let step = 1; step < 2 * count; step *= 2) {
      for (let k = 0; k < step; k++) {
        const i = Math.floor(((k + 0.5) / step) * count);
        if (this.#free.has(i)) continue;
        const kin = [...this.#free.values()].map(({ kinship }) => kinship);
        const best = Math.max(...kin);
        if (kin.length >= LOOKED && best >= NEIGHBOURS && kin.filter((one) => one >= ALIKE * best).length >= TELLING)
          return;
        yield i;
      }
    }
  }

  /** Holds leaf i against the one numbered next. */
  next(i: number): void {
    const ask = this.#asking({ from: i, to: i + 1, lie: 'same' });
    this.#read.set(`${i} ${i + 1}`, ask);
    this.#free.set(i, ask(this.#pitch));
  }

  #asking({ from, to, lie }: Pick<Way, 'from' | 'to' | 'lie'>): Ask {
    const read = lie === 'same' ? this.#read.get(`${from} ${to}`) : undefined;
    this.#read.delete(`${from} ${to}`);
    return read ?? ringsBetween(this.figures[from] as FaceFigure, this.figures[to] as FaceFigure, lie);
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
      const all = (this.#free.get(i) as Kinship).rings.deep;
      return all.reduce((sum, d) => sum + d, 0) / all.length;
    };
    const middle = [...better].sort((a, b) => deep(a) - deep(b))[Math.floor((better.length - 1) / 2)] as number;
    this.#course = { leaf: middle, rings: (this.#free.get(middle) as Kinship).rings };
    return this.#kin(better[Math.floor(better.length / 2)] as number);
  }

  #kin(i: number): number {
    return this.#free.get(i)?.kinship ?? -1;
  }

  /** The pair as the rings tell it; other ways than as they are numbered are tried only where that leaves a doubt, less than `enough`. */
  between(a: number, b: number, enough: number): LeafPair {
    const key = `${a} ${b}`;
    const known = this.#pairs.get(key);
    if (known) return known;
    let best = this.#told({ from: a, to: b, lie: 'same', believed: a });
    if (best.kinship < enough) {
      // The course holds where a leaf lies as its number says and as the most do: either of the two may be one that does not.
      const others = LIES.flatMap((lie): Way[] => [
        { from: a, to: b, lie, believed: a },
        { from: a, to: b, lie, believed: b },
        { from: b, to: a, lie, believed: b },
      ]).filter(({ lie, believed, from }) => (lie === 'same' ? believed === b && from === a : believed === from));
      const looks = others.map((way) => ({ way, like: this.#glance(way) }));
      for (const { way } of looks.sort((p, q) => q.like - p.like).slice(0, CLOSELY)) {
        const one = this.#told(way);
        if (one.kinship > best.kinship) best = way.from === a ? one : { ...one, cuts: -one.cuts };
      }
    }
    this.#pairs.set(key, best);
    this.#pairs.set(`${b} ${a}`, { ...best, cuts: -best.cuts });
    return best;
  }

  /** Cuts that may lie between, with the depths that they make. Where one of two leaves shows its other face, that face lies a leaf nearer or farther. */
  #depths(lie: Lie): { cuts: number; depth: number }[] {
    const more = lie === 'over' || lie === 'over end for end' ? [this.saw.thickness, -this.saw.thickness] : [0];
    return Array.from({ length: MOST_CUTS }, (_, k) => [k + 1, -k - 1])
      .flat()
      .flatMap((cuts) => more.map((by) => ({ cuts, depth: cuts * this.#pitch + by })));
  }

  #told(way: Way): LeafPair {
    const ask = this.#asking(way);
    let best: LeafPair = { kinship: -1, lie: way.lie, cuts: 1 };
    for (const { cuts, depth } of this.#depths(way.lie)) {
      const { kinship } = ask(depth, this.#courseFor(way, cuts));
      if (kinship > best.kinship) best = { kinship, lie: way.lie, cuts };
    }
    return best;
  }

  /** The most that two leaves can be alike one way by the rings just as they are known: much quicker than settling them. */
  #glance(way: Way): number {
    const { from, to, lie } = way;
    const like = likenessBy(this.figures[from] as FaceFigure, this.figures[to] as FaceFigure, lie);
    return Math.max(...this.#depths(lie).map(({ cuts, depth }) => like(depth, this.#courseFor(way, cuts))));
  }

  /** The board's rings as the leaf asked from cuts them, if it, or else the other, lies where its number says. */
  #courseFor({ from, to, believed }: Way, cuts: number): RingCourse {
    const { leaf, rings } = this.#course as { leaf: number; rings: RingCourse };
    const at = believed === from ? from : to - cuts;
    return { ...rings, deep: rings.deep.map((d) => d - (at - leaf) * this.#pitch) };
  }
}
