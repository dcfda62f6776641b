import type { BlankFlattening } from '../flattening';
import type { Polygon, Region, Segment, WideLine } from '../geometry';
import type { Defect, Job, Miss, Placement } from '../job';
import type { Key, KeysOutput } from '../keys';
import type { ClearPiece } from '../layout';
import type { CutFirst } from './before-flattening';
import type { BoardReport } from './boards-types';
import type { KeyBlanks, KeyWork } from './key-report';
import type { TopSapwood } from './sapwood';
import type { SetReport } from './set-types';
import type { ThicknessHelp } from './thickness-help';
import type { TopLines } from './top-lines';
import type { WoodReport } from './wood-report';

/**
 * The whole job computed: what every sheet, every screen after the layout and `plan.json` are built from. All of it follows from
 * the job and the plan kept; nothing here is stored. Lengths in mm, areas in mm2, money in the job's currency.
 */
export interface PlanReport {
  readonly job: JobLine;
  readonly plan: { readonly id: string; readonly name: string; readonly gap: number; readonly waste: number };
  readonly tops: readonly TopReport[];
  /** Slabs that the plan cuts, in sawing order. */
  readonly slabs: readonly SlabReport[];
  readonly boards: readonly BoardReport[];
  /** Doors on their leaves: the kept set, if one is kept. */
  readonly sets: readonly SetReport[];
  readonly misses: readonly Miss[];
  /** Blanks for the keys of all tops, by their wood. */
  readonly keyBlanks: readonly KeyBlanks[];
  readonly cost: CostReport;
  readonly order: readonly WorkStep[];
  readonly wood: WoodReport;
  readonly sledWork: SledWork;
  readonly verdict: Verdict;
}

export interface JobLine {
  readonly id: string;
  readonly name: string;
  /** ISO date of the job, which the papers bear. */
  readonly date: string;
  readonly units: 'mm' | 'in';
  readonly currency: string;
  /** How the papers give lengths, where the job says. */
  readonly printed?: Job['printed'];
}

/** A finished top of the plan. */
export interface TopReport {
  readonly id: string;
  readonly name: string;
  readonly placement: Placement;
  /** Outline of the finished top: its strips, joined. */
  readonly outline: Polygon<'top'>;
  readonly size: {
    readonly length: number;
    readonly depth: readonly [least: number, most: number];
    readonly thickness: number;
  };
  readonly seams: readonly {
    readonly line: Segment<'top'>;
    readonly blend: number | null;
    readonly lines: number | null;
    readonly word: string | null;
    /** It was judged before the tape moved its strips. */
    readonly before: boolean;
    /** A crack or the pith was ripped out there, or the halves are opened like a book; null for a plain seam. */
    readonly made: 'reglued' | 'book' | null;
    /** What was ripped out, as one calls it, and how much wood goes between the two edges, mm. */
    readonly ripped: { readonly name: string; readonly gap: number } | null;
  }[];
  /** The lines that are keyed: cracks, and behind them seams that are decorated. */
  readonly cracks: readonly {
    readonly id: string;
    /** Its number on the sheets: C1, C2 ... for cracks, S1 ... for seams. */
    readonly mark: string;
    /** By its letter alone, 'a', and with its slab: 'a on Slab 2'. */
    readonly short: string;
    readonly called: string;
    readonly seam: boolean;
    /** From its left tip to its right one. */
    readonly line: WideLine;
    /** Its trace on the far face as seen from above, where that face was photographed, tied to this one, and shows it in one piece. */
    readonly far: WideLine | null;
    readonly through: boolean;
    /** A photo proposed it and nobody confirmed it: its keys stand on a guess. */
    readonly proposed: boolean;
  }[];
  readonly sapwood: TopSapwood;
  /** Where it is scribed to, its holes, its ends' angles. */
  readonly lines: TopLines;
  readonly keys: readonly Key[];
  /** How they are made and let in; null where no crack is to be keyed. */
  readonly keyWork: KeyWork | null;
  readonly hold: KeysOutput['hold'];
  /** Cracks that no key could be placed on, with the reason. */
  readonly keysRefused: readonly { readonly crack: string; readonly reason: string }[];
  readonly weight: { readonly kg: number; readonly least: number; readonly most: number } | null;
  /** Seasonal change across the depth, mm, for the move from the slabs' moisture to the site's; null without a moisture. */
  readonly movement: {
    readonly change: number;
    readonly least: number;
    readonly most: number;
    readonly source: string;
  } | null;
}

/** One slab of the plan with all that is done to it, in the frame of the face that is up. */
export interface SlabReport {
  readonly flitch: string;
  readonly slab: string;
  readonly name: string;
  readonly face: 'top' | 'bottom';
  readonly outline: Region<'face'>;
  readonly bark: Polygon<'face'> | null;
  /** Way of the grain against the slab's x, degrees. */
  readonly grainDegrees: number;
  /** One standard deviation of the outline, mm. */
  readonly outlineSigma: number;
  /** One standard deviation of a measured point, mm, over the face. */
  readonly pointSigma: readonly { readonly at: readonly [x: number, y: number]; readonly mm: number }[];
  readonly price: number | null;
  readonly weight: { readonly kg: number; readonly least: number; readonly most: number } | null;
  readonly defects: readonly Defect[];
  /** Defects of the other face that reach this one, where they lie under it: those that go through, or may. */
  readonly farDefects: readonly {
    /** What it is called here: a′. */
    readonly letter: string;
    /** As a sentence calls it. */
    readonly name: string;
    readonly defect: Defect;
  }[];
  readonly blanks: readonly BlankReport[];
  readonly cuts: readonly Cut[];
  readonly keys: readonly {
    readonly outline: Polygon<'face'>;
    readonly pocket: Polygon<'face'>;
    readonly size: string;
    readonly top: string;
    readonly number: number;
    /** Its crack was proposed by a photo and not confirmed. */
    readonly proposed: boolean;
  }[];
  readonly offcuts: readonly {
    readonly polygon: Polygon<'face'>;
    readonly area: number;
    /** Clear rectangles of use, a kerf apart, the largest first; at least one. */
    readonly pieces: readonly (ClearPiece & {
      /** Flattened by itself: once flat, and finished after all reserves. Null without readings. */
      readonly thickness: { readonly flat: number; readonly finished: number } | null;
    })[];
  }[];
  /** They add up: stock = parts + kerf + offcuts + waste. */
  readonly areas: Areas;
  /** The marks that were set by hand, if any; otherwise the cutting map proposes two. */
  readonly marks: Segment<'face'> | null;
  /** They are drilled already, and stay. */
  readonly drilled?: boolean;
}

export interface Areas {
  readonly stock: number;
  readonly parts: number;
  readonly kerf: number;
  readonly offcuts: number;
  readonly waste: number;
}

/** A rough-cut piece on its way to a strip of a top. */
export interface BlankReport {
  /** 'counter-1': top and strip, from the front. */
  readonly id: string;
  readonly top: string;
  readonly topName: string;
  /** Strip of the top, from 0 at the front. */
  readonly strip: number;
  readonly rough: Polygon<'face'>;
  readonly finished: Polygon<'face'>;
  readonly roughSize: readonly [length: number, width: number];
  readonly finishedSize: readonly [length: number, width: number];
  readonly jointFront: Segment<'face'> | null;
  readonly jointBack: Segment<'face'> | null;
  /** Thickness that the top wants. */
  readonly wanted: number;
  /** Null where the slab has no readings: no reading, no thickness. */
  readonly flattening: BlankFlattening | null;
  /** What cutting to rough size before flattening gains; null without readings. */
  readonly cutFirst: CutFirst | null;
  /** The strip of the same top that finishes thinnest, where that is another one: both finish at its thickness. */
  readonly ruledBy: { readonly name: string; readonly finished: number; readonly loses: number } | null;
  /** What would help where it is too thin for what is wanted; null where it is not. */
  readonly help: ThicknessHelp | null;
}

/** One cut as it is made on the slab, in order. */
export interface Cut {
  readonly number: number;
  readonly kind: 'crosscut' | 'rip' | 'joint' | 'trim';
  /** Rough cuts are made on the slab, fine ones on the flat blank. */
  readonly stage: 'rough' | 'fine';
  /** The side of the line on which the kerf lies is the waste's. */
  readonly line: Segment<'face'>;
  readonly kerf: number;
  readonly reason: string;
  /** Blanks that the cut frees. */
  readonly blanks: readonly string[];
}

export interface CostReport {
  readonly lines: readonly { readonly item: string; readonly quantity: string; readonly price: number | null }[];
  readonly total: number | null;
  /** What the slabs cost of it; null without their prices. */
  readonly slabs: number | null;
  /** Cost per square metre of finished top; null without prices. */
  readonly perSquareMetre: number | null;
}

/** One step of the order of work (DESIGN 1), with what it concerns. */
export interface WorkStep {
  readonly step: string;
  readonly detail: string;
  /** Kinds of work whose cautions belong to it. */
  readonly cautions: readonly string[];
}

/** What flattening takes over a whole job. */
export interface SledWork {
  /** Time with the sled, and with other machines, minutes. */
  readonly sled: number;
  readonly machines: number;
  /** Loose chips in litres, and the bags that they fill. */
  readonly chips: number;
  readonly bags: number;
  /** Way of the bit, m, and its part that meets wood: what an edge wears by. */
  readonly metres: number;
  readonly cutting: number;
}

/** What a plan can be at fault in (check.ts). */
export type Rule =
  | 'gone'
  | 'map'
  | 'wood'
  | 'margin'
  | 'live edge'
  | 'defect'
  | 'sapwood'
  | 'allowance'
  | 'joint'
  | 'length'
  | 'depth'
  | 'strip'
  | 'overlap'
  | 'kerf'
  | 'seams'
  | 'thickness'
  | 'shape'
  | 'end'
  | 'swing'
  | 'zone'
  | 'cut-out'
  | 'grain'
  | 'stairs'
  | 'cuts'
  | 'areas'
  | 'run'
  | 'source'
  | 'book'
  | 'reglue';

/** What the independent checker says. */
export interface Verdict {
  readonly passed: boolean;
  readonly faults: readonly { readonly where: string; readonly rule: Rule; readonly message: string }[];
}
