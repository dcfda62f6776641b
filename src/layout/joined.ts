import type { Segment } from '../geometry';
import type { Joint, Shop, Strip, Top } from '../job';
import type { Candidate } from './candidate';
import { collide } from './collide';
import { type Refusal, refusalOf } from './sound';
import type { FaceStock } from './stock';
import { layEdge, makeStrip, type StripSpec } from './strips';
import { thinnest } from './thinnest';

/** One strip of a top, by the line that it is laid by. */
export interface LaidStrip {
  readonly stock: FaceStock;
  /** Its joint with the strip in front; of the first strip, its joint with the one behind. */
  readonly line: Segment<'face'>;
  /** From its front to its back edge; of a first strip with a live edge, where that is deepest. */
  readonly depth: number;
}

/** Strips that are joined one behind the other, from the front. */
export interface JoinedStrips {
  readonly strips: readonly LaidStrip[];
  /** One fewer than strips. */
  readonly joints: readonly Joint[];
  /** How much less deep the top is at its narrowest than at its deepest, mm: what a live edge swings by. */
  readonly swing: number;
  /** Laid as a hand drew them, whether the wood there is sound or not: the checker then says what that breaks. */
  readonly asDrawn?: boolean;
}

/** A top of strips on their lines, or what keeps it from being sawn: strips of one slab must leave room for the saw between them. */
export function joined(
  { strips: laid, joints, swing, asDrawn }: JoinedStrips,
  top: Top,
  shop: Shop,
): Candidate | Refusal {
  const strips: Strip[] = [];
  let y = 0;
  for (const [i, { stock, line, depth }] of laid.entries()) {
    const spec: StripSpec = {
      stock,
      toTop: layEdge(line, i === 0 ? depth : y),
      front: i === 0 && top.front === 'live' ? 'live' : y,
      back: y + depth,
      frontIsJoint: i > 0,
      backIsJoint: i < laid.length - 1,
    };
    y += depth;
    const strip = makeStrip(spec, top, shop);
    const refusal = strip && !asDrawn ? refusalOf(stock, strip, spec, top) : null;
    if (!strip || refusal) return refusal ?? 'wood';
    if (!asDrawn && strips.some((other) => collide(other, strip, shop.kerf))) return 'wood';
    strips.push(strip);
  }
  const stock = laid.map((strip) => strip.stock);
  const thickness = thinnest(stock, strips, shop, 'facets');
  return {
    top,
    stock,
    placement: { top: top.id, strips, joints: [...joints], depth: [y - swing, y], thickness },
  };
}
