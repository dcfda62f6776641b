import type { Point } from '../geometry';
import { InputProblem } from '../units';
import type { TapeRow } from './adjustment';
import type { Measure } from './measure';
import type { Relief } from './relief';

/** A steel tape over a few metres, read to the millimetre: one standard deviation, mm (common practice, no source). */
const TAPE_SIGMA = 0.5;

/** A tape check as a row of the fit, and what the fit without it says of the same length. */
export interface TapeCheck extends TapeRow {
  /** Length as the photo shows it, straight from spot to spot, mm, and one standard deviation. */
  readonly seen: number;
  readonly seenSigma: number;
}

export function tapeRow(
  view: Measure,
  relief: Relief,
  px: readonly [Point<'photo'>, Point<'photo'>],
  length: number,
  where: string,
): TapeCheck {
  const [a, b] = [view.place(px[0]), view.place(px[1])];
  const measured = view.distance(px[0], px[1]);
  if (!a || !b || !measured || measured.mm === 0) {
    throw new InputProblem(
      'This tape check does not lie between two spots on the slab.',
      where,
      'Click its two ends on the wood.',
    );
  }
  const out = [relief.height(a), relief.height(b)] as const;
  return {
    px,
    length,
    out,
    // What clicks and unknown heights add; the camera's own doubt is what the check is to reduce.
    sigma: Math.hypot(TAPE_SIGMA, measured.localSigma),
    seen: Math.hypot(measured.mm, out[0] - out[1]),
    seenSigma: measured.cameraSigma,
  };
}
