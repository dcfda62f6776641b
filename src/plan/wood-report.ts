import type { Drying, Fixing, GlueUp } from '../wood';
import type { Lift } from './lifting';
import type { PithHeld } from './pith-held';

/** Weight with its spread, kg. */
interface Weight {
  readonly kg: number;
  readonly least: number;
  readonly most: number;
}

/** What the wood itself asks for: drying, weight, gluing up, fixing. Lengths in mm. */
export interface WoodReport {
  readonly slabs: readonly {
    readonly slab: string;
    readonly name: string;
    readonly weight: Weight | null;
    readonly lift: Lift | null;
  }[];
  readonly blanks: readonly BlankWood[];
  readonly tops: readonly TopWood[];
  /** Parts that are planned to be glued and must not be yet. */
  readonly apart: readonly string[];
  /** How the tops of a run meet. */
  readonly meetings: readonly MeetingWords[];
}

/** What is to be said of a meeting of two tops. */
export interface MeetingWords {
  readonly heading: string;
  readonly words: readonly string[];
}

export interface BlankWood {
  readonly id: string;
  readonly weight: Weight | null;
  readonly lift: Lift | null;
  /** On the way from the moisture now to the site's, seen on the face that is up; null without a moisture or a thickness. */
  readonly drying: Drying | null;
  /** Null where it does not run in it, as far as is known. */
  readonly pith: PithHeld | null;
}

export interface TopWood {
  readonly id: string;
  readonly name: string;
  readonly weight: Weight | null;
  readonly lift: Lift | null;
  readonly fixing: Fixing;
  /** One for each seam, from the front. */
  readonly glue: readonly GlueUp[];
}
