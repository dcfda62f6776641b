import type { Bounds, Point, Polygon, Region } from '../geometry';
import type { FacePicture } from '../raster';
import type { Control } from '../search';

/** What tracing takes and gives. */

/** A line drawn by hand on the picture to say what is wood and what is not, mm on the face. */
export interface Stroke {
  readonly line: readonly Point<'face'>[];
  readonly kind: 'wood' | 'not wood';
}

/** A thing laid on or beside the wood whose place is known: a marker's card, a sheet, a rod. */
export interface Laid {
  readonly polygon: Polygon<'face'>;
  /** Whether it lies on the wood (true) or on the floor or bench beside it. */
  readonly onWood: boolean;
}

/** What is known before tracing. Every one may be empty, but something must say where the wood is: marks or strokes. */
export interface TraceOptions {
  readonly laid?: readonly Laid[];
  /** Points known to lie on or around the wood, such as clicked marks: the wood is sought within their hull. */
  readonly points?: readonly Point<'face'>[];
  readonly strokes?: readonly Stroke[];
  /** What the photo shows of the face, a ring in mm: wood that reaches it runs on unseen. */
  readonly frame?: Polygon<'face'>;
  /** How far the edge lies outside the rough wood at most, mm, and the ends off it, where the rough wood was found well. */
  readonly near?: number;
  /** Gives a part of the face (mm) in full detail, where the picture itself has less. */
  readonly closer?: (part: Bounds) => FacePicture;
  /** The calibration's part of an outline's doubt, one standard deviation, mm: it goes into `outlineSigma`. */
  readonly sigma?: (outline: Region<'face'>) => number;
  /** Hears roughly where the wood is, long before its edge is known. */
  readonly rough?: (wood: Polygon<'face'>) => void;
  /** Hears all but the defects as soon as it is known, and is waited for. */
  readonly outlined?: (known: Omit<Traced, 'defects' | 'cutOff'>) => void | Promise<void>;
  readonly control?: Pick<Control, 'progress' | 'cancelled' | 'breathe'>;
}

/** A defect as the picture shows it, for the user to confirm: a line with widths for a crack, a polygon for the others. mm. */
export type ProposedDefect = { readonly confidence: number } & (
  | { readonly kind: 'crack'; readonly line: readonly (readonly [x: number, y: number, width: number])[] }
  | { readonly kind: 'knot' | 'void' | 'bark inclusion' | 'stain'; readonly polygon: Polygon<'face'> }
);

/** Sides of the photo at which the slab runs out of the picture. */
export type Side = 'left' | 'right' | 'top' | 'bottom';

/** A slab's edges as a picture shows them, mm on the face. */
export interface Edges {
  /** The wood's edge, bark left out. */
  readonly outline: Region<'face'>;
  /** The outer edge of the bark, where it can be told. */
  readonly bark: Polygon<'face'> | null;
  /** One standard deviation of the outline, mm, the calibration's included. */
  readonly outlineSigma: number;
  readonly sapwood: readonly Polygon<'face'>[];
  /** Whether sapwood can be told from heart along every live side; where not, `sapwood` says nothing of the sides it leaves out. */
  readonly sapwoodTold: boolean;
  /** Stretches of the outline that run along the photo's frame: the wood runs on unseen there. */
  readonly unseen: readonly (readonly Point<'face'>[])[];
}

/** What a rectified picture shows of a slab's face; all in mm on the face. */
export interface Traced extends Edges {
  /** Roughly where more pieces of wood of like size lie in the photo: this one is the one that marks and strokes point at. */
  readonly others: readonly Polygon<'face'>[];
  readonly defects: readonly ProposedDefect[];
  readonly cutOff: readonly Side[];
  /** What lies on the wood and hides it (cards, sheet, rods): nothing is measured there. Kept in the job as the face's `hidden`. */
  readonly hidden: readonly Polygon<'face'>[];
  /** The axis about which the rings mirror each other, with how sure it is; null where it is not told, left out until it is looked for. */
  readonly pith?: { readonly line: readonly Point<'face'>[]; readonly confidence: number } | null;
}
