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
