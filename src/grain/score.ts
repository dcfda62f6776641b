import { compareEdges, differences, lineMatch, type Parts, scaleOf, unlikeness } from './compare';
import { type Edge, readEdge } from './edge';
import type { FaceFeatures, Kerfs, Kin, Scale } from './face-features';
import type { JointLine, JointScore, Stretch, Why } from './joint-types';
import { jointCost, sideOf } from './line-cost';
import { spacingDiffers } from './spacing';
import { partsOf } from './station-sums';
import { BLOCK, TELLING } from './uncut-pairs';

/** Length of the stretches that a seam is shown in, mm. */
const STRETCH = 200;
/** Fewer imaginary kerfs than this say nothing; shorter ones are taken instead. */
const ENOUGH = 40;
/** A stretch that matches better than this share of uncut wood needs no reason. */
const NO_REASON = 0.3;

const fresh = (): Parts => ({ look: 0, known: 0 });

/** One side of a joint, read once to be compared with many. */
const jointEdge = (face: FaceFeatures, { line: [p, q], keeps }: JointLine): Edge =>
  readEdge(face, p[0], p[1], q[0], q[1], keeps === 'left');

/**
 * Measures a seam of two faces that were prepared together.
 * @throws RangeError for faces that were not, since their light and metric are not the same
 */
export function scoreJoint(faceA: FaceFeatures, lineA: JointLine, faceB: FaceFeatures, lineB: JointLine): JointScore {
  if (faceA.kin !== faceB.kin) throw new RangeError('Faces of a joint must be prepared together.');
  const kin = faceA.kin;
  const a = jointEdge(faceA, lineA);
  const b = jointEdge(faceB, lineB);
  if (a.count !== b.count) throw new RangeError('The two lines of a joint must be equally long.');
  const along = stretches(a, b, kin);
  return { blend: meanBlend(along), lines: lineMatch(a, b), cost: jointCost(sideOf(a), sideOf(b), kin), along };
}

/**
 * Blend of the whole seam: the mean over what can be told of it, as an eye takes it in, a stretch at a time. Held against kerfs as long as itself,
 * a long seam would be worse than all of them as soon as it is anything less than their like, and one that is hard to see would count no more
 * than one that is plain.
 */
function meanBlend(along: readonly Stretch[]): number {
  let [sum, length] = [0, 0];
  for (const { from, to, blend } of along) {
    if (blend === null) continue;
    sum += (to - from) * blend;
    length += to - from;
  }
  return length > 0 ? sum / length : 0;
}

function stretches(a: Edge, b: Edge, kin: Kin): Stretch[] {
  const pieces = partsOf(a.length, STRETCH);
  return Array.from({ length: pieces }, (_, i): Stretch => {
    const [from, to] = [Math.round((i * a.count) / pieces), Math.round(((i + 1) * a.count) / pieces)];
    const place = { from: (from / a.count) * a.length, to: (to / a.count) * a.length };
    const parts = compareEdges(a, b, kin, fresh(), from, to);
    if (parts.known < TELLING) return { ...place, blend: null, why: 'defect' };
    const blend = shareNoBetter(scaleOf(a, b, kin), STRETCH, unlikeness(parts));
    return {
      ...place,
      blend,
      why: blend === null || blend >= NO_REASON ? null : reason(a, b, kin, from, to),
    };
  });
}

/** What differs most; where neither colour nor grain is out of the ordinary, it is lines that do not go through, or cannot: they stand closer on one side. */
function reason(a: Edge, b: Edge, kin: Kin, from: number, to: number): Why {
  const { colour, grain } = differences(a, b, kin, from, to);
  if (Math.max(colour, grain) < 1.5 && lineMatch(a, b, from, to) < 0.3)
    return spacingDiffers(a, b, from, to) ? 'spacing' : 'lines';
  return grain > colour ? 'grain' : 'colour';
}

/** Share of imaginary kerfs of that length which match no better; null where there are none. */
function shareNoBetter(scale: Scale, length: number, cost: number): number | null {
  const uncut = uncutCosts(scale, length);
  if (uncut.length === 0) return null;
  let [low, high] = [0, uncut.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((uncut[middle] as number) < cost) low = middle + 1;
    else high = middle;
  }
  return (uncut.length - low) / uncut.length;
}

/** Unlikeness over imaginary kerfs all over the uncut wood of all faces, sorted; as long as asked for where the slabs are long enough. */
function uncutCosts(scale: Scale, length: number): Float64Array {
  const key = Math.max(1, Math.round(length / BLOCK));
  const have = scale.uncut.get(key);
  if (have) return have;
  let costs: number[] = [];
  for (let blocks = key; blocks >= 1 && costs.length < ENOUGH; blocks >>= 1) {
    costs = scale.kerfs.flatMap((kerfs) => joined(kerfs, blocks));
  }
  const sorted = Float64Array.from(costs).sort();
  scale.uncut.set(key, sorted);
  return sorted;
}

/** Imaginary kerfs of so many blocks, each begun half its length after the last. */
function joined({ blocks, rows, unlike, known }: Kerfs, many: number): number[] {
  const costs: number[] = [];
  for (let first = 0; first + many <= blocks; first += Math.max(1, many >> 1)) {
    for (let r = 0; r < rows; r++) {
      let [sum, whole] = [0, 0];
      for (let b = first; b < first + many; b++) {
        const share = known[b * rows + r] as number;
        if (share < TELLING) continue;
        sum += share * (unlike[b * rows + r] as number);
        whole += share;
      }
      if (whole >= TELLING * many) costs.push(unlikeness({ look: sum / whole, known: whole / many }));
    }
  }
  return costs;
}
