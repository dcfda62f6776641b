import { compareEdges, lineMatch, type Parts, unlikeness } from './compare';
import { type Edge, readEdge } from './edge';
import type { FaceFeatures, Kin } from './face-features';
import type { JointLine, JointScore, Stretch, Why } from './joint-types';
import { jointCost, sideOf } from './line-cost';
import { spacingDiffers } from './spacing';
import { STATION } from './station-sums';

/** Length of the stretches that a seam is shown in, mm. */
const STRETCH = 200;
/** Imaginary kerfs lie this far apart across the grain, mm. */
const ROWS_APART = 4;
/** Fewer imaginary kerfs than this say nothing; shorter ones are taken instead. */
const ENOUGH = 40;
/** Joints count as equally long within this, mm. */
const LENGTH_STEP = 50;
/** Of a stretch with less sound wood than this nothing can be said. */
const TELLING = 0.5;
/** A stretch that matches better than this share of uncut wood needs no reason. */
const NO_REASON = 0.3;

const fresh = (): Parts => ({ edge: 0, angle: 0, block: 0, known: 0 });

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
  const whole = unlikeness(compareEdges(a, b, kin, fresh()));
  return {
    blend: shareNoBetter(kin, a.length, whole) ?? 0,
    lines: lineMatch(a, b),
    cost: jointCost(sideOf(a), sideOf(b), kin),
    along: stretches(a, b, kin),
  };
}

function stretches(a: Edge, b: Edge, kin: Kin): Stretch[] {
  const pieces = Math.max(1, Math.round(a.length / STRETCH));
  return Array.from({ length: pieces }, (_, i): Stretch => {
    const [from, to] = [Math.round((i * a.count) / pieces), Math.round(((i + 1) * a.count) / pieces)];
    const place = { from: (from / a.count) * a.length, to: (to / a.count) * a.length };
    const parts = compareEdges(a, b, kin, fresh(), from, to);
    if (parts.known < TELLING) return { ...place, blend: null, why: 'defect' };
    const blend = shareNoBetter(kin, STRETCH, unlikeness(parts));
    return {
      ...place,
      blend,
      why: blend === null || blend >= NO_REASON ? null : reason(parts, a, b, from, to),
    };
  });
}

/** What differs most; where neither colour nor grain is out of the ordinary, it is lines that do not go through, or cannot: they stand closer on one side. */
function reason({ edge, angle, block }: Parts, a: Edge, b: Edge, from: number, to: number): Why {
  const colour = Math.max(edge, block);
  if (Math.max(colour, angle) < 1.5 && lineMatch(a, b, from, to) < 0.3)
    return spacingDiffers(a, b, from, to) ? 'spacing' : 'lines';
  return angle > colour ? 'grain' : 'colour';
}

/** Share of imaginary kerfs of that length which match no better; null where there are none. */
function shareNoBetter(kin: Kin, length: number, cost: number): number | null {
  const uncut = uncutCosts(kin, length);
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
function uncutCosts(kin: Kin, length: number): Float64Array {
  const key = Math.max(1, Math.round(length / LENGTH_STEP));
  const have = kin.uncut.get(key);
  if (have) return have;
  let costs: number[] = [];
  for (let l = key * LENGTH_STEP; l >= LENGTH_STEP && costs.length < ENOUGH; l /= 2) {
    costs = kin.faces.flatMap((face) => kerfsOf(face, l));
  }
  const sorted = Float64Array.from(costs).sort();
  kin.uncut.set(key, sorted);
  return sorted;
}

function kerfsOf(face: FaceFeatures, length: number): number[] {
  const { kin, x0, y0, rows } = face;
  const room = face.stations * STATION - length;
  if (room < 0) return [];
  const starts = Math.floor((2 * room) / length) + 1;
  const costs: number[] = [];
  const parts = fresh();
  for (let i = 0; i < starts; i++) {
    const x = x0 + (starts === 1 ? room / 2 : (i * room) / (starts - 1));
    for (let y = ROWS_APART; y + kin.kerf < rows; y += ROWS_APART) {
      const less = readEdge(face, x, y0 + y, x + length, y0 + y, false);
      const more = readEdge(face, x, y0 + y + kin.kerf, x + length, y0 + y + kin.kerf, true);
      compareEdges(less, more, kin, parts);
      if (parts.known >= TELLING) costs.push(unlikeness(parts));
    }
  }
  return costs;
}
