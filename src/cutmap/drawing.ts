import type { Affine, Point, Polygon } from '../geometry';
import type { Ink, LineKind } from './pen';

/**
 * The one drawing model (DESIGN 6): everything that leaves the tool on paper or as a drawing file is built of these few shapes,
 * in mm on a sheet, x right and y down from the top-left corner. What is richer (hatches, dimensions, tables, labels, tiles)
 * is made of them by functions, so a writer has only these to know, and knows no wood.
 */

/** Layers that a reader can switch off, and that a drawing file names. */
export const LAYERS = [
  'PHOTO',
  'OUTLINE',
  'DEFECT',
  'OFFCUT',
  'DATUM',
  'ROUGH',
  'FINISHED',
  'JOINT',
  'KEY',
  'POCKET',
  'CHISEL',
  'TEMPLATE',
  'MEASURE',
  'SHEET',
] as const;
export type Layer = (typeof LAYERS)[number];

/** A line through points, or a ring; filled, stroked or both. */
export interface Path {
  readonly is: 'path';
  readonly points: readonly Point<'paper'>[];
  readonly closed: boolean;
  /** null: not stroked. */
  readonly line: LineKind | null;
  readonly fill?: Ink;
}

/** Part of a circle, from `from` to `to` degrees (from +x to +y); a whole circle where they are 360 apart. */
export interface Arc {
  readonly is: 'arc';
  readonly centre: Point<'paper'>;
  readonly radius: number;
  readonly from: number;
  readonly to: number;
  readonly line: LineKind | null;
  readonly fill?: Ink;
}

/** One line of text. */
export interface Text {
  readonly is: 'text';
  /** Where its baseline starts, has its middle or ends. */
  readonly at: Point<'paper'>;
  readonly text: string;
  /** Height of a capital letter in mm, as drawing standards count (ISO 3098); nothing is set under 2.5. */
  readonly size: number;
  readonly bold: boolean;
  readonly ink: Ink;
  readonly anchor: 'start' | 'middle' | 'end';
  /** Degrees from +x to +y about `at`. */
  readonly turn: number;
}

/** A photo as encoded by the caller (the browser's canvas, sharp in Node). */
export interface EncodedImage {
  readonly type: 'jpeg' | 'png';
  readonly bytes: Uint8Array;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
}

/** A photo laid on the sheet. */
export interface Image {
  readonly is: 'image';
  readonly image: EncodedImage;
  /** From its pixels (corner of the first pixel at 0, 0) to the sheet. */
  readonly place: Affine<'rectified', 'paper'>;
  /** 1 covers, 0 vanishes. */
  readonly opacity: number;
}

export type Element = Path | Arc | Text | Image;

/** Elements of one layer, drawn in their order, optionally cut off at a ring. */
export interface Group {
  readonly layer: Layer;
  readonly name: string;
  readonly clip?: Polygon<'paper'>;
  readonly elements: readonly Element[];
}

/** One sheet of paper, or (for a drawing file) the true size of what it shows. */
export interface Sheet {
  /** Plain and sorting in order: the stem of its file's name. */
  readonly name: string;
  readonly title: string;
  /** mm. */
  readonly width: number;
  readonly height: number;
  readonly groups: readonly Group[];
}

/** What a set of sheets says about itself. */
export interface About {
  readonly title: string;
  /** The job's own date, yyyy-mm-dd: no clock is read, so the same job gives the same bytes. */
  readonly date: string;
  /** BCP 47. */
  readonly language: string;
}

/** A line through points. */
export const path = (points: readonly Point<'paper'>[], line: LineKind | null, closed = false, fill?: Ink): Path =>
  fill === undefined ? { is: 'path', points, closed, line } : { is: 'path', points, closed, line, fill };

/** A ring, stroked and perhaps filled. */
export const ring = (points: readonly Point<'paper'>[], line: LineKind | null, fill?: Ink): Path =>
  path(points, line, true, fill);

/** A box by its top-left corner and size. */
export const box = (x: number, y: number, width: number, height: number, line: LineKind | null, fill?: Ink): Path =>
  ring(
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    line,
    fill,
  );

/** A whole circle. */
export const circle = (centre: Point<'paper'>, radius: number, line: LineKind | null, fill?: Ink): Arc =>
  fill === undefined
    ? { is: 'arc', centre, radius, from: 0, to: 360, line }
    : { is: 'arc', centre, radius, from: 0, to: 360, line, fill };

type TextStyle = Partial<Pick<Text, 'size' | 'bold' | 'ink' | 'anchor' | 'turn'>>;

/** Least height of a capital on any sheet, mm. */
export const LEAST_TEXT = 2.5;

/** A line of text; 2.5 mm, regular, ink, from its start, level unless told. */
export const text = (at: Point<'paper'>, words: string, style: TextStyle = {}): Text => ({
  is: 'text',
  at,
  text: words,
  size: style.size ?? LEAST_TEXT,
  bold: style.bold ?? false,
  ink: style.ink ?? 'ink',
  anchor: style.anchor ?? 'start',
  turn: style.turn ?? 0,
});
