import type { Segment } from '../geometry';
import type { KeySize } from '../job';
import type { BlankPlan, BlankWanted, CrackFill, InlayPair, KeyMarks, Taper, Template } from '../keys';

/** How the keys of one size are made. */
export interface SizeWork {
  readonly size: KeySize;
  readonly count: number;
  /** Depths of its pockets, the shallowest first. */
  readonly depths: readonly number[];
  readonly template: Template;
  /** Null for a shop without a collar. */
  readonly inlay: InlayPair | null;
  /** Of the deepest. */
  readonly taper: Taper;
}

/** How the keys of one top are made and let in. Lengths in mm. */
export interface KeyWork {
  /** The line that layout is measured from: along it from its left end, as one stands before the top, and square off it. */
  readonly datum: { readonly name: string; readonly line: Segment<'top'> };
  /** In the order of the top's keys. */
  readonly marks: readonly KeyMarks[];
  /** In the order of the top's cracks. */
  readonly cracks: readonly {
    /** A at the left, B at the right as one stands before the top. Open: the crack runs out of the top there. */
    readonly tips: Segment<'top'>;
    readonly open: readonly [boolean, boolean];
    /** The tips of its trace on the far face, from which keys let in there are measured; null where they stand under those above. */
    readonly under: Segment<'top'> | null;
    /** Null for a seam. */
    readonly fill: CrackFill | null;
  }[];
  /** Each key size that the top uses, in the order of the shop's. */
  readonly sizes: readonly SizeWork[];
  /** What is to be known before a pocket is cut, a sentence each. */
  readonly notes: readonly string[];
}

/** Key blanks of one wood: what is wanted, and which offcuts of the plan it is sawn from. */
export interface KeyBlanks {
  readonly species: string;
  /** Ids of the tops that they are for. */
  readonly tops: readonly string[];
  readonly wanted: readonly BlankWanted[];
  readonly plan: BlankPlan;
  /** The same as one says it in the shop, a sentence each. */
  readonly words: readonly string[];
}
