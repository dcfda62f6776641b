import type { Point, Polygon, Segment } from '../geometry';
import type { SeamWord } from '../grain';
import type { Cell, Grade, SetFront, SetMiss } from '../job';
import type { FrameMember, GradeLine } from '../leaves';
import type { SheetCuts } from './sheet-cuts';

/** Doors on their leaves, computed for screen and paper: all of it follows from the job and a set; nothing here is stored. Lengths in mm, areas in mm2. */

/** Where a leaf's marked end or edge points in a panel. */
export type Towards = 'up' | 'down' | 'left' | 'right';

/** A place on a leaf: from its marked end along it, from its marked edge into it. */
export interface OnLeaf {
  readonly along: number;
  readonly inward: number;
}

/** One piece of a panel's face or back, cut out of a leaf. */
export interface PieceReport {
  /** In its panel, from 1. */
  readonly number: number;
  readonly board: string;
  readonly boardName: string;
  readonly leaf: string;
  /** Place of the leaf in sawing order; null where the board has no such leaf any more. */
  readonly place: number | null;
  /** The face that shows. */
  readonly face: Cell['face'];
  readonly flip: Cell['flip'];
  /** Where the leaf's marked end and edge lie in the panel. */
  readonly end: Towards;
  readonly edge: Towards;
  /** Cut lines square to each other: from the marked end, and from the marked edge. Of a piece that is no rectangle, the box around it. */
  readonly along: readonly [from: number, to: number];
  readonly inward: readonly [from: number, to: number];
  /** Corners of the piece on its leaf. */
  readonly corners: readonly OnLeaf[];
  readonly isRectangle: boolean;
  readonly cell: Polygon<'panel'>;
  readonly toPanel: Cell['toPanel'];
  readonly window: Polygon<'face'>;
  /** The whole leaf, in the frame of the window. */
  readonly outline: Polygon<'face'>;
}

/** One step of taping a face together: what is laid beside what. */
export interface TapeStep {
  /** Numbers of the pieces on either side. */
  readonly one: readonly number[];
  readonly other: readonly number[];
  /** Whether this closes an end joint, in which grain meets end to end. */
  readonly ends: boolean;
}

/** A panel of the set with all that is done to it. */
export interface FrontReport {
  /** 'door-1'. */
  readonly id: string;
  /** In the sequence of the set: left to right, top to bottom. */
  readonly number: number;
  /** 'Doors 1', by its door's name. */
  readonly name: string;
  /** Upper left corner of the finished front. */
  readonly at: Point<'elevation'>;
  /** Upper left corner of the panel as it is pressed. */
  readonly origin: Point<'elevation'>;
  readonly finished: SetFront['finished'];
  readonly pressed: SetFront['pressed'];
  readonly trimmed: Polygon<'panel'>;
  readonly sight: Polygon<'panel'>;
  readonly framed: boolean;
  readonly locked: boolean;
  readonly pieces: readonly PieceReport[];
  readonly back: readonly PieceReport[];
  readonly joints: readonly {
    readonly between: readonly [number, number];
    readonly kind: SetFront['joints'][number]['kind'];
    readonly line: Segment<'panel'>;
    readonly blend: number | null;
    /** What a maker would say of it. */
    readonly word: SeamWord | null;
  }[];
  readonly blend: number | null;
  readonly word: SeamWord | null;
  /** Fronts that its grain is to run on into over a gap, each once, with the weakest of what joins them. */
  readonly gaps: readonly {
    /** Number of the other front. */
    readonly to: number;
    readonly blend: number | null;
    readonly word: SeamWord | null;
  }[];
  readonly taping: readonly TapeStep[];
}

/** What becomes of a leaf of the stack. */
export interface LeafUse {
  readonly board: string;
  readonly boardName: string;
  readonly leaf: string;
  readonly place: number;
  readonly uses: readonly {
    readonly front: string;
    /** Number of the panel. */
    readonly panel: number;
    readonly side: 'face' | 'back';
    /** Number of the piece in it. */
    readonly piece: number;
  }[];
  /** Left out of the set by hand. */
  readonly without: boolean;
}

/** One panel of the press list. */
export interface PressLine {
  readonly front: string;
  readonly number: number;
  readonly name: string;
  /** The core, which is as large as the panel when it is pressed. */
  readonly height: number;
  readonly width: number;
  readonly core: number;
  readonly finished: SetFront['finished'];
  /** Glue lines: one, or two where the back is veneered. */
  readonly lines: number;
}

/** What goes into the press, what it takes, and the cores' cut list. */
export interface PressReport {
  readonly panels: readonly PressLine[];
  /** Cut lists by the core's thickness. */
  readonly cores: readonly { readonly thickness: number; readonly cuts: SheetCuts }[];
  readonly glue: { readonly area: number; readonly grams: number };
  /** Panels that go into the bag together, by number; null where nobody said how large the bag is. */
  readonly loads: readonly (readonly number[])[] | null;
  /** Numbers of panels that are too large for the bag. */
  readonly tooLarge: readonly number[];
  /** What the sheets cost; null without a price. */
  readonly cost: number | null;
}

/** The set held against the limits of a grade; the strictest that a door of it asks for. */
export interface GradeReport {
  readonly grade: Grade;
  /** Whether leaves are reckoned as plain-sliced or as quartered, by the rings of their boards. */
  readonly cut: 'plain' | 'quarter';
  readonly lines: readonly GradeLine[];
}

/** Solid wood round the panel of a front. */
export interface FrameReport {
  readonly front: string;
  readonly number: number;
  readonly members: readonly FrameMember[];
}

/** The kept set of the job. */
export interface SetReport {
  readonly id: string;
  readonly name: string;
  readonly gap: number;
  /** In sequence. */
  readonly fronts: readonly FrontReport[];
  readonly stack: readonly LeafUse[];
  readonly misses: readonly SetMiss[];
  readonly press: PressReport;
  /** What to mind before it is glued, a sentence each. */
  readonly warnings: readonly string[];
  /** Null where no door asks for a grade. */
  readonly grade: GradeReport | null;
  /** Of fronts with rails and stiles. */
  readonly frames: readonly FrameReport[];
}
