/** Looks of a face by the angle of the rings under it. */
export const LOOKS = ['flat', 'rift', 'quarter'] as const;
export type Look = (typeof LOOKS)[number];

/** From these angles on, degrees: the thirds of a right angle (practice; sellers differ by ten degrees and more). */
const RIFT_FROM = 30;
const QUARTER_FROM = 60;

/** The look that leaves sawn parallel to a board's face will have where its end grain stands at an angle, degrees: 0 flat, 90 quarter. */
export const lookAt = (degrees: number): Look =>
  degrees < RIFT_FROM ? 'flat' : degrees < QUARTER_FROM ? 'rift' : 'quarter';

/**
 * The look of a leaf from edge to edge, by the angles read near one edge, in the middle and near the other; null where none was read. Leaves are
 * parallel to the face, so all of a board have nearly the same.
 */
export function leafLook(degrees: readonly (number | null)[]): readonly Look[] | null {
  const read = degrees.filter((each) => each !== null).map(lookAt);
  return read.length === 0 ? null : read.filter((look, i) => look !== read[i - 1]);
}
