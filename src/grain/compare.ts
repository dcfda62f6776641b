import type { Edge } from './edge';
import { BLOCK_KEEP, EDGE_KEEP, type Kin } from './face-features';
import { LINE_TAPS } from './lines';
import { WEIGHTS } from './weights';

/** Where two edges differ; each part is 1 in the mean over uncut wood with a kerf taken out. */
export interface Parts {
  edge: number;
  angle: number;
  block: number;
  /** Share of the joint that could be measured. */
  known: number;
}

/** No stretch counts for more than this many times uncut wood: one unseen knot must not decide a joint of two metres. */
const MOST = 8;
/** What a stretch without sound wood counts for: about as much as wood that does not belong together. */
const UNKNOWN = 2.5;

/** Compares two edges of the same number of stations; `from` and `to` limit it to a stretch (stations). */
export function compareEdges(p: Edge, q: Edge, kin: Kin, out: Parts, from = 0, to = p.count): Parts {
  let [edge, edges, angle, sure] = [0, 0, 0, 0];
  for (let k = from; k < to; k++) {
    const known = Math.min(p.near[3 * k] as number, q.near[3 * k] as number);
    if (known === 0) continue;
    edges += known;
    let d = 0;
    for (let i = k * EDGE_KEEP; i < (k + 1) * EDGE_KEEP; i++) {
      const e = (p.edge[i] as number) - (q.edge[i] as number);
      d += e * e;
    }
    edge += known * Math.min(d, MOST);
    const w = (p.near[3 * k + 2] as number) * (q.near[3 * k + 2] as number);
    const turn = (p.near[3 * k + 1] as number) - (q.near[3 * k + 1] as number);
    angle += w * Math.min((turn * turn) / kin.angleSpread, MOST);
    sure += w;
  }
  let [block, blocks] = [0, 0];
  const first = Math.floor((from * p.blocks) / p.count);
  const last = Math.ceil((to * p.blocks) / p.count);
  for (let b = first; b < last; b++) {
    const known = Math.min(p.blockKnown[b] as number, q.blockKnown[b] as number);
    if (known < 0.25) continue;
    let d = 0;
    for (let i = b * BLOCK_KEEP; i < (b + 1) * BLOCK_KEEP; i++) {
      const e = (p.block[i] as number) - (q.block[i] as number);
      d += e * e;
    }
    block += known * Math.min(d, MOST);
    blocks += known;
  }
  out.edge = edges > 0 ? edge / edges : UNKNOWN;
  out.angle = sure > 0 ? angle / sure : UNKNOWN;
  out.block = blocks > 0 ? block / blocks : UNKNOWN;
  out.known = edges / Math.max(1, to - from);
  return out;
}

/** One figure for how unlike uncut wood a joint is. */
export function unlikeness({ edge, angle, block, known }: Parts): number {
  const measured = WEIGHTS.edge * edge + WEIGHTS.angle * angle + WEIGHTS.block * block;
  return known * measured + (1 - known) * Math.max(measured, UNKNOWN);
}

/** Correlation of the lines over both edges, -1..1; 0 where there are none. */
export function lineMatch(p: Edge, q: Edge, from = 0, to = p.count): number {
  let [pq, pp, qq] = [0, 0, 0];
  for (let i = from * LINE_TAPS; i < to * LINE_TAPS; i++) {
    const x = p.lines[i] as number;
    const y = q.lines[i] as number;
    if (x === 0 || y === 0) continue;
    pq += x * y;
    pp += x * x;
    qq += y * y;
  }
  return pp > 0 && qq > 0 ? pq / Math.sqrt(pp * qq) : 0;
}

const WANDER_SUMS = new Float64Array(6 * LINE_TAPS);

/**
 * The same for how the lines wander along the joint: without what each row holds from end to end. Rings parallel to the joint meet by
 * chance wherever their spacing is alike; that they wander alike does not happen by chance.
 */
function wanderMatch(p: Edge, q: Edge): number {
  const sums = WANDER_SUMS.fill(0);
  for (let i = 0, at = 0; i < p.lines.length; i++, at += 6) {
    if (at === sums.length) at = 0;
    const x = p.lines[i] as number;
    const y = q.lines[i] as number;
    if (x === 0 || y === 0) continue;
    sums[at] = (sums[at] as number) + 1;
    sums[at + 1] = (sums[at + 1] as number) + x;
    sums[at + 2] = (sums[at + 2] as number) + y;
    sums[at + 3] = (sums[at + 3] as number) + x * y;
    sums[at + 4] = (sums[at + 4] as number) + x * x;
    sums[at + 5] = (sums[at + 5] as number) + y * y;
  }
  let [pq, pp, qq] = [0, 0, 0];
  for (let at = 0; at < sums.length; at += 6) {
    const [n, sx, sy, sxy, sxx, syy] = sums.subarray(at, at + 6) as unknown as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    if (n === 0) continue;
    pq += sxy - (sx * sy) / n;
    pp += sxx - (sx * sx) / n;
    qq += syy - (sy * sy) / n;
  }
  return pp > 0 && qq > 0 ? pq / Math.sqrt(pp * qq) : 0;
}

/**
 * How far apart two broad looks are, 1 in the mean over uncut wood; given up (Infinity) once it must come to more than `most`.
 */
export function broadDistance(p: Float32Array, q: Float32Array, most: number): number {
  const blocks = p.length / BLOCK_KEEP;
  const limit = most * blocks;
  let sum = 0;
  for (let i = 0; i < p.length; i += BLOCK_KEEP) {
    let d = 0;
    for (let k = i; k < i + BLOCK_KEEP; k++) {
      const e = (p[k] as number) - (q[k] as number);
      d += e * e;
    }
    // NaN where a block is unknown on either side.
    sum += d < MOST ? d : d >= MOST ? MOST : UNKNOWN;
    if (sum > limit) return Infinity;
  }
  return sum / blocks;
}

/** How much a joint costs beside its unlikeness when its lines do not meet at all, and when they do not wander alike. */
const LINES_COUNT = 0.5;
const WANDER_COUNT = 3;

/** What a search for a seam minimises: unlikeness, and how far the lines over both edges are from going through. */
export function jointCost(p: Edge, q: Edge, kin: Kin): number {
  return (
    unlikeness(compareEdges(p, q, kin, scratch)) +
    LINES_COUNT * (1 - lineMatch(p, q)) +
    WANDER_COUNT * (1 - wanderMatch(p, q))
  );
}
const scratch: Parts = { edge: 0, angle: 0, block: 0, known: 0 };
