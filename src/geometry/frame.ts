/**
 * Frames as types (DESIGN 4). A point carries its frame in its type only: at run time it is a bare `[x, y]`,
 * the form that every JSON of ours uses, so nothing is converted at the edges.
 *
 * photo      pixels of a photograph as taken; whole numbers are pixel centres, (0, 0) the centre of the top-left pixel
 * rectified  pixels of a rectified face; same convention
 * face       mm on a slab face: x along the slab, y down the picture, z into the wood
 * farFace    mm on the other face of the same slab, as seen when the slab is turned over (mirrored)
 * top        mm on a finished top: x along the front, y towards the back
 * panel      mm on the front of a veneered panel as it is pressed: x right, y down from its upper left corner
 * elevation  mm on the fronts of a set as one stands before them: x right, y down
 * paper      mm on a sheet: x right, y down from the top-left corner
 */
export type Frame = 'photo' | 'rectified' | 'face' | 'farFace' | 'top' | 'panel' | 'elevation' | 'paper';

declare const frame: unique symbol;

/** A point in frame `F`. Pixels for `photo` and `rectified`, mm for the others. */
export type Point<F extends Frame> = readonly [x: number, y: number] & { readonly [frame]?: F };

/** A simple closed ring; the first point is not repeated at the end. */
export type Polygon<F extends Frame> = readonly Point<F>[];

/** An area with holes. `outer` and `holes` are simple rings of either winding; readers must not rely on it. */
export interface Region<F extends Frame> {
  readonly outer: Polygon<F>;
  readonly holes: readonly Polygon<F>[];
}

/** A straight piece from the first point to the second. */
export type Segment<F extends Frame> = readonly [Point<F>, Point<F>];

/** Axis-aligned bounds. */
export interface Bounds {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}
