import { type FaceFeatures, type JointLine, scoreJoint } from '../grain';
import { type Pair, type Scored, SeamBench, type SeamSide, slideOf } from './seam-pair';
import { lineAt, SeamRoom, type SeamWish, type SeamWood } from './seam-room';

/** What every search for seams of two slabs begins with, and what it gives. */

/** A seam found between two faces that were prepared together. */
export interface FoundSeam {
  readonly front: JointLine;
  readonly back: JointLine;
  readonly blend: number;
  readonly lines: number;
  readonly cost: number;
  readonly slide: number;
  readonly flipped: boolean;
}

/** A slab of a search, with features that were prepared together with the other's. */
export interface SearchedSlab extends SeamWood {
  readonly features: FaceFeatures;
  /** x from which the slide is counted. */
  readonly middle: number;
}

/** Limits of a search. */
export interface SeamLimits {
  readonly slide: number;
  /** Each joint's angle against x, degrees. */
  readonly angle: number;
  readonly ends: 'same' | 'either';
}

/** Two slabs with the limits of the seam between them. */
export function benchOf(front: SearchedSlab, back: SearchedSlab, wish: SeamWish, limits: SeamLimits): SeamBench {
  const side = (slab: SearchedSlab): SeamSide => ({
    features: slab.features,
    middle: slab.middle,
    room: new SeamRoom(slab, wish),
  });
  return new SeamBench(side(front), side(back), { slide: limits.slide, degrees: limits.angle });
}

/** Whether two seams lie on lines that are turned, or apart across either slab by so much, mm. */
export const offsetsDiffer = (a: Pair, b: Pair, by: number): boolean =>
  a.front.way !== b.front.way ||
  a.back.way !== b.back.way ||
  Math.abs(a.front.y - b.front.y) >= by ||
  Math.abs(a.back.y - b.back.y) >= by;

/** The cheapest that can be had, each different from all cheaper ones. */
export function distinct(found: readonly Scored[], most: number, differs: (a: Pair, b: Pair) => boolean): Scored[] {
  const kept: Scored[] = [];
  const ranked = found.filter(({ cost }) => Number.isFinite(cost)).sort((a, b) => a.cost - b.cost);
  for (const one of ranked) {
    if (kept.length === most) break;
    if (kept.every((other) => differs(one, other))) kept.push(one);
  }
  return kept;
}

/** Seams measured in full, the best first: a search reads looks near enough, so that they may stand in another order than it found them in. */
export function measuredSeams(
  pairs: readonly Pair[],
  front: SearchedSlab,
  back: SearchedSlab,
  length: number,
): FoundSeam[] {
  return pairs
    .map((pair): FoundSeam => {
      const inFront: JointLine = { line: lineAt(pair.front, length), keeps: 'right' };
      const behind: JointLine = { line: lineAt(pair.back, length), keeps: 'left' };
      const { blend, lines, cost } = scoreJoint(front.features, inFront, back.features, behind);
      const slide = slideOf(pair, [front.middle, back.middle]);
      return { front: inFront, back: behind, blend, lines, cost, slide, flipped: pair.front.way !== pair.back.way };
    })
    .sort((p, q) => p.cost - q.cost);
}
