/**
 * Inks and line kinds. Chalk blue is what is measured, red pencil what is cut (DESIGN 8); every kind is also told apart by its
 * width or dashes, so that a black-and-white print loses nothing.
 */

/** Colours as red, green, blue of 0..1. Each is dark enough on white to be read as text, but for `pale` and `paper`. */
export const INKS = {
  ink: [0.11, 0.12, 0.14],
  grey: [0.36, 0.36, 0.36],
  pale: [0.9, 0.89, 0.86],
  chalk: [0.1, 0.33, 0.63],
  pencil: [0.7, 0.13, 0.13],
  paper: [1, 1, 1],
  /** For what a camera reads: no printer mixes it of coloured dots. */
  black: [0, 0, 0],
} as const;
export type Ink = keyof typeof INKS;

interface Pen {
  readonly ink: Ink;
  /** mm. */
  readonly width: number;
  /** Drawn and left out in turn, mm; empty for a whole line. */
  readonly dash: readonly number[];
}

const whole: readonly number[] = [];

export const PENS = {
  /** The wood's edge. */
  outline: { ink: 'ink', width: 0.5, dash: whole },
  /** The chalk line between the marks. */
  datum: { ink: 'chalk', width: 0.4, dash: [8, 1.5, 1, 1.5] },
  /** Dimension lines, tape lines, leaders. */
  measure: { ink: 'chalk', width: 0.2, dash: whole },
  /** Cuts from the rough slab. */
  rough: { ink: 'pencil', width: 0.5, dash: [4, 1.5] },
  /** The finished piece. */
  finished: { ink: 'pencil', width: 0.3, dash: whole },
  /** A glued joint's line. */
  joint: { ink: 'pencil', width: 0.9, dash: whole },
  /** A key and its pocket. */
  pocket: { ink: 'ink', width: 0.35, dash: whole },
  /** The opening of a router template. */
  template: { ink: 'pencil', width: 0.3, dash: whole },
  defect: { ink: 'ink', width: 0.25, dash: whole },
  /** A defect of the other face. */
  below: { ink: 'ink', width: 0.25, dash: [1.6, 1] },
  hatch: { ink: 'ink', width: 0.13, dash: whole },
  offcut: { ink: 'grey', width: 0.35, dash: [0.6, 1.4] },
  /** Frames, tables, title block. */
  frame: { ink: 'ink', width: 0.35, dash: whole },
  rule: { ink: 'grey', width: 0.15, dash: whole },
} as const satisfies Record<string, Pen>;
export type LineKind = keyof typeof PENS;
