import type { Point, Region } from '../geometry';

/** A height read on a face: `z` up, in mm, over a plane that all readings of both faces share. */
export interface Reading {
  readonly at: Point<'face'>;
  readonly z: number;
  /** One standard deviation, mm. */
  readonly sigma: number;
}

/** A spot of a surface: x, y on the face and the height z, all mm, z up. */
export type Spot3 = readonly [x: number, y: number, z: number];

/** One face of a slab between and beyond its readings. */
export interface Surface {
  readonly readings: readonly Reading[];
  /** Height at a point of the face, mm. */
  height(p: Point<'face'>): number;
  /** The same at many points. */
  heights(points: readonly Point<'face'>[]): Float64Array;
  /** One standard deviation of that height, mm; it grows away from the readings. */
  sigma(p: Point<'face'>): number;
  /**
   * The spots of a region that decide whether a plane clears the surface there. For a surface of flat facets these are all
   * that matter; for a curved one they stand close enough that what lies between is negligible.
   */
  spotsOver(region: Region<'face'>): Spot3[];
  /** The region that the readings reach: what lies outside is a guess. */
  readonly reach: readonly Point<'face'>[];
}

/** Both faces of a slab, heights over one plane. */
export interface Faces {
  readonly top: Surface;
  readonly bottom: Surface;
}
