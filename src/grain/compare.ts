import type { Edge } from './edge';
import { BROAD_KEEP, type Kin, type Scale, UNRELATED } from './face-features';
import { LINE_TAPS } from './lines';
import { blockCost } from './metric';
import { BLOCK_RAW, COLOUR_FEATURES } from './side-features';

/** What an edge looks like in the metric's space. */
export type Look = Pick<Edge, 'count' | 'left' | 'blocks' | 'look' | 'known'>;

/** What two edges come to. */
export interface Parts {
  /** Unlikeness over what could be measured: 1 in the mean over uncut wood with a kerf taken out, 2.5 over sides that do not belong together. */
  look: number;
  /** Share of the joint that could be measured. */
  known: number;
}

/** Less of a block than this tells nothing. */
const LEAST = 0.25;
/** No feature counts for more than this many times uncut wood. */
const MOST = 8;

/** The blocks that a stretch of stations lies in. */
const blocksOf = (p: Look, from: number, to: number): [first: number, last: number] => [
  Math.floor((from * p.blocks) / p.count),
  Math.ceil((to * p.blocks) / p.count),
];

/** The scale that a joint of two edges is told on. */
export const scaleOf = (p: Look, q: Look, kin: Kin): Scale => (p.left === q.left ? kin.mirrored : kin.onward);

/** Compares two edges of the same number of stations; `from` and `to` limit it to a stretch (stations). */
export function compareEdges(p: Look, q: Look, kin: Kin, out: Parts, from = 0, to = p.count): Parts {
  const [first, last] = blocksOf(p, from, to);
  const { metric } = kin;
  const mirrored = p.left === q.left;
  const scale = scaleOf(p, q, kin);
  let [sum, whole] = [0, 0];
  for (let b = first; b < last; b++) {
    const known = Math.min(p.known[b] as number, q.known[b] as number);
    if (known < LEAST) continue;
    sum += known * scale.unlike(blockCost(metric, mirrored, p.look, b * metric.to, q.look, b * metric.to));
    whole += known;
  }
  out.look = whole > 0 ? sum / whole : UNRELATED;
  out.known = whole / Math.max(1, last - first);
  return out;
}

/** One figure for how unlike uncut wood a joint is; where no sound wood is it counts as wood that does not belong together. */
export function unlikeness({ look, known }: Parts): number {
  return known * look + (1 - known) * Math.max(look, UNRELATED);
}

/** How much colour and grain differ over a stretch; each is 1 in the mean over uncut wood. */
export function differences(p: Edge, q: Edge, kin: Kin, from: number, to: number): { colour: number; grain: number } {
  const [first, last] = blocksOf(p, from, to);
  let [colour, grain, n] = [0, 0, 0];
  for (let b = first; b < last; b++) {
    if (Math.min(p.known[b] as number, q.known[b] as number) < LEAST) continue;
    for (let i = 0; i < BLOCK_RAW; i++) {
      const d = (p.raw[b * BLOCK_RAW + i] as number) - (q.raw[b * BLOCK_RAW + i] as number);
      const share = Math.min(MOST, (d * d) / Math.max(kin.uncutSpread[i] as number, 1e-9));
      if (i < COLOUR_FEATURES) colour += share / COLOUR_FEATURES;
      else grain += share / (BLOCK_RAW - COLOUR_FEATURES);
    }
    n++;
  }
  return { colour: colour / Math.max(1, n), grain: grain / Math.max(1, n) };
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

/** How far apart two broad looks are, less for uncut wood; given up (Infinity) once it must come to more than `most`. */
export function broadDistance(p: Float32Array, q: Float32Array, most: number): number {
  const blocks = p.length / BROAD_KEEP;
  const limit = most * blocks;
  let sum = 0;
  for (let i = 0; i < p.length; i += BROAD_KEEP) {
    let d = 0;
    for (let k = i; k < i + BROAD_KEEP; k++) {
      const e = (p[k] as number) - (q[k] as number);
      d += e * e;
    }
    // NaN where a block is unknown on either side.
    sum += d < MOST ? d : d >= MOST ? MOST : UNRELATED;
    if (sum > limit) return Infinity;
  }
  return sum / blocks;
}
