/**
 * What a drawing shows, as plain data in the units of its sheet (mm on a face or a top, pixels on a photo). Screens say what
 * is there; drawing.ts alone knows how it is painted. An item that is the same object as before is not painted anew.
 */

export type XY = readonly [x: number, y: number];

/** The kinds of line, told apart by their dashes and weight as well as by colour (DESIGN 8). */
export type Pen =
  /** The wood's edge and anything that is simply there. */
  | 'ink'
  /** What stands behind: bark, waste, what is not chosen. */
  | 'faint'
  /** Chalk: datum line, distances, readings. */
  | 'measured'
  /** Red pencil: a finished cut. */
  | 'cut'
  /** Red pencil, dashed: a rough cut. */
  | 'rough'
  /** Red pencil, heavy: the joint of a seam. */
  | 'joint'
  /** What is there but not seen here: the other face's defects, an edge that no photo shows. */
  | 'broken'
  /** Chalk, thin: many strokes that were measured together. */
  | 'fine'
  /** The line that something runs along: the pith. */
  | 'centre'
  /** What is being drawn or chosen now. */
  | 'chosen'
  /** A line that will be there with the next tap. */
  | 'ahead'
  /** A stroke by hand: here is wood. */
  | 'wood'
  /** A stroke by hand: here is none. */
  | 'not wood';

/** How an area is hatched; each kind of defect has its own. */
export type Hatch =
  | 'knot'
  | 'crack'
  | 'void'
  | 'bark inclusion'
  | 'shake'
  | 'stain'
  | 'rot'
  | 'pith'
  | 'covered'
  | 'key'
  /** Where the ± is wide. */
  | 'doubt'
  | 'hidden'
  | 'sapwood'
  /** How much a stretch of a seam shows. */
  | 'hardly'
  | 'shows'
  | 'plain'
  | 'none';

interface Of<K extends string> {
  kind: K;
  /** Unique on the sheet. Items are painted in the order of the list. */
  id: string;
}

/** A picture; `map` takes its pixel corners to the sheet: x' = a x + c y + e, y' = b x + d y + f. */
export interface PictureItem extends Of<'picture'> {
  image: HTMLImageElement | HTMLCanvasElement;
  map: readonly [number, number, number, number, number, number];
  /** 1 is as it is, 0 invisible. */
  strength?: number;
  /** The part of it that is shown, as a ring on the sheet; all of it where left out. */
  clip?: readonly XY[];
}

export interface LineItem extends Of<'line'> {
  points: readonly XY[];
  closed?: boolean;
  pen: Pen;
}

/** Many lines of one pen as one item: a thousand strokes are then not a thousand items. */
export interface StrokesItem extends Of<'strokes'> {
  lines: readonly (readonly XY[])[];
  pen: Pen;
}

export interface AreaItem extends Of<'area'> {
  points: readonly XY[];
  holes?: readonly (readonly XY[])[];
  hatch: Hatch;
  pen: Pen;
}

/** A text of constant size on screen: a letter in a ring, a cut's number in a box, or a bare dimension. */
export interface TextItem extends Of<'text'> {
  at: XY;
  text: string;
  pen: Pen;
  shape: 'ring' | 'box' | 'bare';
  /** Degrees from +x to +y. */
  turn?: number;
  /** Left out where another text lies, and the sooner the higher this is; always painted where left out itself. */
  yields?: number;
  /** Other places for a text that yields, tried in their order. */
  or?: readonly XY[];
}

/** A cross of constant size on screen: a reading's spot, a mark, a calibration point. */
export interface SpotItem extends Of<'spot'> {
  at: XY;
  pen: Pen;
  text?: string;
}

export type Item = PictureItem | LineItem | StrokesItem | AreaItem | TextItem | SpotItem;

/** A point that can be dragged, tapped, and nudged by key. */
export interface Handle {
  id: string;
  at: XY;
}

/** The sheet's part that is to be seen. */
export interface Extent {
  minX: number;
  minY: number;
  maxX: number;
  maxY: number;
}

/** The extent of points, with a margin as a share of its longer side. Null without points. */
export function extentOf(points: readonly XY[], margin = 0.04): Extent | null {
  if (points.length === 0) return null;
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const pad = margin * Math.max(maxX - minX, maxY - minY, 1);
  return { minX: minX - pad, minY: minY - pad, maxX: maxX + pad, maxY: maxY + pad };
}
