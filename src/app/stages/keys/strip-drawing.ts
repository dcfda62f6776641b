import type { HandKey, KeysInput } from '../../../keys';

/** The unrolled crack on the screen: one scale both ways, so that keys and their spacing are seen as they will be. */

/** Room at either end, px. */
export const PAD = 26;
/** The longest key takes no more than this, px. */
const TALLEST = 96;
/** The crack is drawn so many times its width, as far as this many px. */
const TIMES = [1, 2, 5, 10, 20];
const WIDEST = 16;
/** A distance is written where its stretch has this much room for each of its letters, px. */
const LETTER = 8;
/** Room for a number over a key, and least half of a target, px. */
const NUMBER = 22;
const LEAST_HALF = 22;

export interface StripScale {
  readonly perMm: number;
  /** Of the crack, mm. */
  readonly length: number;
  /** Where the crack's left tip lies, px. */
  readonly left: number;
  /** The crack's line, the line of distances below it, and where the strip ends, px from above. */
  readonly middle: number;
  readonly chain: number;
  readonly height: number;
  /** How many times its own width the crack is drawn. */
  readonly times: number;
}

/** @param width of the strip, px @param longest key that the shop has, mm @param widest place of the crack, mm */
export function stripScale(width: number, length: number, longest: number, widest: number): StripScale {
  const perMm = Math.min((width - 2 * PAD) / Math.max(length, 1), TALLEST / Math.max(longest, 1));
  const times = (widest > 0 && TIMES.findLast((by) => widest * perMm * by <= WIDEST)) || 1;
  const half = Math.max(LEAST_HALF, (longest * perMm) / 2);
  const middle = half + NUMBER;
  const chain = middle + half + 24;
  return { perMm, length, left: (width - length * perMm) / 2, middle, chain, height: chain + 14, times };
}

/** A crack's width along it, mm, at each place that was traced. */
export function widthsAlong(
  line: KeysInput['cracks'][number]['line'],
): readonly (readonly [along: number, width: number])[] {
  let along = 0;
  return line.map(([x, y, width], i) => {
    const before = line[i - 1];
    if (before) along += Math.hypot(x - before[0], y - before[1]);
    return [along, width] as const;
  });
}

/** The distances from tip to tip by way of the keys of one face, mm from the left tip. */
export function chain(keys: readonly HandKey[], crack: number, face: 'top' | 'bottom', length: number) {
  const places = keys
    .flatMap((key) => (key.crack === crack && (key.face === face || key.face === 'both') ? [key.along] : []))
    .sort((a, b) => a - b);
  const stops = [0, ...places, length];
  return stops.slice(1).map((to, i) => ({ from: stops[i] as number, to }));
}

/** Whether a text has room over a stretch. */
export const hasRoom = (text: string, px: number): boolean => px >= LETTER * text.length + 6;
