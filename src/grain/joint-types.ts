import type { Point, Polygon, Region, Segment } from '../geometry';
import type { FacePicture } from '../raster';

/** A defect that the measure must not look at: an area, or a line with its width at each place, mm. */
export interface Masked {
  readonly polygon?: Polygon<'face'> | undefined;
  readonly line?: readonly (readonly [x: number, y: number, width: number])[] | undefined;
}

/** A slab face as the grain room reads it. */
export interface WoodFace {
  readonly picture: FacePicture;
  /** The wood's edge, bark left out. */
  readonly outline: Region<'face'>;
  readonly defects: readonly Masked[];
  /** Lines drawn by hand along the grain, mm: near them they stand for what the picture says of its direction. */
  readonly grainLines?: readonly (readonly Point<'face'>[])[] | undefined;
}

/**
 * One side of a joint: its line on the face, from one end of the seam to the other, and the side of it that is kept. Left is where
 * the cross product of the line's direction and the way to the kept wood is positive.
 */
export interface JointLine {
  readonly line: Segment<'face'>;
  readonly keeps: 'left' | 'right';
}

/** Why a stretch of a seam shows: what differs most there. `defect`: there is too little sound wood to tell. */
export type Why = 'colour' | 'grain' | 'spacing' | 'lines' | 'defect';

/** A stretch of a seam, mm from its first end. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** Share of stretches of uncut wood as long that match no better; null where it cannot be told. */
  readonly blend: number | null;
  readonly why: Why | null;
}

/** A seam measured. */
export interface JointScore {
  /** Share of imaginary kerfs in the slabs' own uncut wood that match no better, 0..1 (DESIGN 5.3), in the mean over the seam's stretches. */
  readonly blend: number;
  /** Two-sided line match, -1..1; 1 for uncut wood. */
  readonly lines: number;
  /** What the search minimises; uncut wood with this kerf taken out has a mean of 1 before its lines are counted. */
  readonly cost: number;
  readonly along: readonly Stretch[];
}

/** Grain direction and ring spacing on a grid of a face: node (c, r) at (x0 + c step, y0 + r step), row by row. */
export interface GrainField {
  readonly step: number;
  readonly x0: number;
  readonly y0: number;
  readonly columns: number;
  readonly rows: number;
  /** Degrees from +x to +y, -90..90; NaN where there is no wood. */
  readonly angles: Float32Array;
  /** 0 (no direction) to 1 (all lines parallel). */
  readonly coherence: Float32Array;
  /** Apparent ring spacing square to the grain, mm; NaN where no lines can be told. */
  readonly spacing: Float32Array;
}
