import {
  type Affine,
  apply,
  applyAll,
  bounds,
  contains,
  distanceToRing,
  intersection,
  invert,
  largestRing,
  type Point,
  type Polygon,
  rectangle,
  type Segment,
} from '../geometry';
import { type Shop, type Strip, SWING_WITHIN, type Top } from '../job';
import type { Candidate } from './candidate';
import { finishedDepth } from './finished-edge';
import { edgeOver, swingOf } from './live-edge';
import { outlineOf } from './outline-of';
import { isPlain, keptBehind, limitsOf } from './sawn';
import { deepestIn } from './seam-zones';
import { stripInTop, stripMap } from './strips';
import { thinnest } from './thinnest';
import type { Unfit } from './unfit';

/** An edge farther than this from the wood's own is sawn, mm. */
const SAWN = 0.1;
/** Rounding of the clipping library, mm. */
const ROUNDING = 0.002;

const inBoth = (a: Polygon<'top'>, b: Polygon<'top'>) =>
  intersection([{ outer: a, holes: [] }], [{ outer: b, holes: [] }]);

/** A strip of the searched box as it is sawn: in the finished top's own frame, within its limits, its blank no larger than that needs. */
function trimmed(strip: Strip, limits: Polygon<'top'>, shift: number, shop: Shop, live: boolean): Strip | null {
  const [a, b, c, d, e, f] = strip.toTop;
  const toTop: Affine<'face', 'top'> = { m: [a, b, c, d, e + shift, f] };
  const finished = largestRing(inBoth(applyAll(toTop, strip.finished), limits));
  if (!finished) return null;
  const { minX, maxX, minY, maxY } = bounds(finished);
  const wood = applyAll(toTop, strip.rough);
  const box = rectangle<'top'>(
    minX - shop.endAllowance,
    live ? bounds(wood).minY - 1 : minY - shop.jointAllowance,
    maxX + shop.endAllowance,
    maxY + shop.jointAllowance,
  );
  const rough = largestRing(inBoth(wood, box));
  if (!rough) return null;
  const toFace = invert(toTop);
  /** A joint is as long as the piece is at it. */
  const joint = (line: Segment<'face'> | null): Segment<'face'> | null => {
    if (!line) return null;
    const { 1: y } = apply(toTop, line[0]);
    const at = finished.filter((p) => Math.abs(p[1] - y) < 2 * ROUNDING).map(([x]) => x);
    const end = (x: number): Point<'face'> => apply(toFace, [x, y] as Point<'top'>);
    return at.length < 2 ? null : [end(Math.min(...at)), end(Math.max(...at))];
  };
  const [jointFront, jointBack] = [joint(strip.jointFront), joint(strip.jointBack)];
  if ((strip.jointFront && !jointFront) || (strip.jointBack && !jointBack)) return null;
  return {
    ...strip,
    toTop: [...toTop.m],
    finished: applyAll(toFace, finished),
    rough: applyAll(toFace, rough),
    jointFront,
    jointBack,
  };
}

/** How much too near to the edge of the top a hole comes, or how far beyond it, with the wood to be kept beside it, mm; 0 where it does not. */
function tooNear({ polygon, keep }: Top['cutOuts'][string], outline: Polygon<'top'>): number {
  const out = Math.max(0, ...polygon.map((p) => (contains(outline, p) ? 0 : distanceToRing(p, outline))));
  if (out > 0) return keep + out;
  const corners = [
    ...polygon.map((p) => distanceToRing(p, outline)),
    ...outline.map((p) => distanceToRing(p, polygon)),
  ];
  return Math.max(0, keep - Math.min(...corners));
}

/** What of the wishes for a top's edges, seams and holes its strips do not keep; null where all are kept. */
function broken(top: Top, strips: readonly Strip[], { stairs }: Shop): Unfit | null {
  const [front, back] = [strips[0], strips.at(-1)];
  if (!front || !back) return { why: 'strip', by: 0 };
  if (stairs) {
    const { minX, maxX, minY, maxY } = bounds(strips.flatMap(stripInTop));
    const [long, wide] = [Math.max(maxX - minX, maxY - minY), Math.min(maxX - minX, maxY - minY)];
    const over = Math.max(long - stairs.length, wide - stairs.width);
    if (over > ROUNDING) return { why: 'stairs', by: over };
  }
  if (top.swing !== null) {
    const edges = [
      ...(top.front === 'live' ? [edgeOver(stripInTop(front), -1)] : []),
      ...(top.back === 'live' ? [edgeOver(stripInTop(back), 1)] : []),
    ];
    const most = Math.max(0, ...edges.map((edge) => swingOf(edge, SWING_WITHIN)));
    if (most > top.swing + ROUNDING) return { why: 'swing', by: most - top.swing };
  }
  const crossed = deepestIn(top, strips);
  if (crossed && crossed.by > ROUNDING) return { why: 'zone', ...crossed };
  const near = Math.max(0, ...Object.values(top.cutOuts).map((hole) => tooNear(hole, outlineOf(strips))));
  return near > ROUNDING ? { why: 'cut-out', by: near } : null;
}

/**
 * A place of the searched box as a place of the top itself: trimmed to its ends and shape, scribe told from finished size. Null where nothing is
 * left of a strip or its joint.
 * @param candidate a place of `searchedTop(top)`
 */
export function asSawn(candidate: Candidate, top: Top, shop: Shop): Candidate | null {
  const { placement, stock } = candidate;
  if (isPlain(top)) return { ...candidate, top };
  const behind = keptBehind(top);
  const depth: [number, number] = [placement.depth[0] - behind, placement.depth[1] - behind];
  const limits = limitsOf(top, depth[1]);
  const strips = placement.strips.map((strip, i) =>
    trimmed(strip, limits, -top.scribe.right, shop, i === 0 && top.front === 'live'),
  );
  if (!strips.every((strip) => strip !== null)) return null;
  const thickness = thinnest(stock, strips, shop, 'facets');
  return { top, stock, placement: { ...placement, strips, depth, thickness } };
}

/** A place of the searched box as a place of the top itself, every wish of its edges and seams kept; or the wish that it does not keep. */
export function fitted(candidate: Candidate, top: Top, shop: Shop): Candidate | Unfit {
  const sawn = asSawn(candidate, top, shop);
  if (!sawn) return { why: 'strip', by: top.leastStrip };
  return judged(sawn, shop);
}

/** A place of a top that keeps all wishes of its edges and seams, or the wish that it does not keep. */
export const judged = (candidate: Candidate, shop: Shop): Candidate | Unfit =>
  sawnBack(candidate) ?? broken(candidate.top, candidate.placement.strips, shop) ?? offBand(candidate) ?? candidate;

/** How far a back that is to be live lies from the wood's own edge, where that is anywhere off it; null where it is live, or need not be. */
function sawnBack({ top, stock, placement }: Candidate): Unfit | null {
  const [strip, face] = [placement.strips.at(-1), stock.at(-1)];
  if (top.back !== 'live' || !strip || !face) return null;
  const toFace = invert(stripMap(strip));
  const edge = edgeOver(stripInTop(strip), 1).slice(1, -1);
  const off = Math.max(0, ...edge.map((p) => distanceToRing(apply(toFace, p), face.outline.outer)));
  return off > SAWN ? { why: 'strip', by: off } : null;
}

/** By how much the depth leaves its band once the live edge has moved with planing; null where it does not, or nobody knows. */
function offBand({ top, stock, placement }: Candidate): Unfit | null {
  const depth = finishedDepth(top, placement.strips, stock, placement.depth);
  const by = depth ? Math.max(top.depth[0] - depth[0], depth[1] - top.depth[1]) : 0;
  return by > ROUNDING ? { why: 'bevel', by } : null;
}

/** Whether a place keeps all wishes. */
export const isFit = (one: Candidate | Unfit): one is Candidate => 'placement' in one;
