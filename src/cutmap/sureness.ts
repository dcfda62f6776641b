import { distance, type Point } from '../geometry';
import type { Face } from '../job';
import { rulerOf } from '../photo';

/** How sure lengths on a slab are by its photos: the ± that the sheets print, which covers 95 %, in mm. */
export interface Sureness {
  /** Of the length between two places: what the errors of both have in common counts once (the calibration's covariance). */
  between(p: Point<'face'>, q: Point<'face'>): number;
  /** Of the length from a place to the wood's edge at `edge`: the edge was followed with a doubt of its own. */
  toEdge(p: Point<'face'>, edge: Point<'face'>): number;
}

/** What is known where the calibration's covariance is not at hand: a grid of uncertainties, and one for all where there is none. */
export interface Doubts {
  readonly pointSigma: readonly { readonly at: readonly [x: number, y: number]; readonly mm: number }[];
  readonly outlineSigma: number;
}

/**
 * So many standard deviations make the ± that is printed. Without readings of the warp the doubt of the relief has fatter tails than a bell curve: two
 * of them covered 91 and 93 % of the lengths on rendered warped slabs (tests/accuracy, map), these cover the 95 % that two stand for.
 */
const READ = 2;
const UNREAD = 2.4;

/** How sure lengths are on this face. Without a measured photo each end counts by itself. */
export function surenessOf(doubts: Doubts, face?: Face): Sureness {
  const ruler = face && Object.values(face.photos).some(({ calibration }) => calibration) ? rulerOf(face) : null;
  const apart = (p: Point<'face'>, q: Point<'face'>): number => Math.hypot(sigmaAt(doubts, p), sigmaAt(doubts, q));
  const sigma = (p: Point<'face'>, q: Point<'face'>): number => ruler?.distance(p, q).sigma ?? apart(p, q);
  const read = Object.values(face?.photos ?? {}).every(({ calibration }) => !calibration || calibration.relief);
  const times = read ? READ : UNREAD;
  return {
    between: (p, q) => times * sigma(p, q),
    toEdge: (p, edge) => times * Math.hypot(ruler ? sigma(p, edge) : sigmaAt(doubts, p), doubts.outlineSigma),
  };
}

/** One standard deviation of a measured point, mm: between the grid's points by inverse square distance. */
function sigmaAt({ pointSigma, outlineSigma }: Doubts, p: Point<'face'>): number {
  let [sum, weights] = [0, 0];
  for (const { at, mm } of pointSigma) {
    const weight = 1 / Math.max(1, distance(at, p) ** 2);
    sum += weight * mm;
    weights += weight;
  }
  return weights > 0 ? sum / weights : outlineSigma;
}
