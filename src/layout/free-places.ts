import {
  type Affine,
  applyAll,
  bounds,
  compose,
  invert,
  type Point,
  type Polygon,
  rectangle,
  regionContains,
  ringArea,
  type Segment,
} from '../geometry';
import type { Shop, Strip, Top } from '../job';
import type { Candidate } from './candidate';
import { type Lie, liesOf, shifted } from './free-lies';
import { outlineOn } from './free-shape';
import { edgeOver } from './live-edge';
import { limitsOf } from './sawn';
import { spoiltBy } from './sound';
import type { FaceStock } from './stock';
import { woodIn } from './strips';
import { thinnest } from './thinnest';

/**
 * Places in one piece for tops that no straight strip of the slab's length stands for: with a shape of their own, with a live back or live ends,
 * or with grain that runs another way than along them. Each is looked for in columns and then measured on the exact outline.
 */

/** Whether a top is looked for here. */
export const isFree = ({ shape, back, ends, grain }: Top): boolean =>
  shape !== null || back === 'live' || grain !== null || ends.right.edge === 'live' || ends.left.edge === 'live';

/** Rounding of the clipping library, mm. */
const ROUNDING = 0.01;
/** A sawn edge is looked at this finely, mm, and from so many margins behind a live edge on: it may leave that at a slant. */
const SAMPLE = 2;
const CLEAR_BEHIND = 3;
/** Places nearer to each other than this, mm, are one. */
const NEAR = 50;

/** Whether every sawn edge of a piece, one on the limits, keeps the margin; near a live edge it need not. */
export function sawnInside(
  stock: FaceStock,
  toTop: Affine<'face', 'top'>,
  ring: Polygon<'top'>,
  limits: Polygon<'top'>,
): boolean {
  const inside = stock.inside.map(({ outer, holes }) => ({
    outer: applyAll(toTop, outer),
    holes: holes.map((hole) => applyAll(toTop, hole)),
  }));
  const edges = ring.map((p, i): Segment<'top'> => [p, ring[(i + 1) % ring.length] as Point<'top'>]);
  const sawn = edges.map((edge) => outlineOn(limits, edge, 2 * ROUNDING));
  const liveEnds = edges.flatMap((edge, i) => (sawn[i] ? [] : edge));
  const clear = CLEAR_BEHIND * stock.margin + 1;
  return edges.every(([a, b], i) => {
    if (!sawn[i]) return true;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const count = Math.max(1, Math.ceil(length / SAMPLE));
    return Array.from(
      { length: count + 1 },
      (_, k): Point<'top'> => [a[0] + ((b[0] - a[0]) * k) / count, a[1] + ((b[1] - a[1]) * k) / count],
    ).every(
      (p) =>
        inside.some((region) => regionContains(region, p)) ||
        liveEnds.some((q) => Math.hypot(p[0] - q[0], p[1] - q[1]) < clear),
    );
  });
}

/** How far a live end stays from the top's own end where it stays farthest, over the depth that the whole top has, mm. */
function shortAt(side: 'right' | 'left', ring: Polygon<'top'>, top: Top, own: LiveEdges): number {
  const turned = ring.map(([x, y]): Point<'top'> => [y, x]);
  const reach = edgeOver(turned, side === 'right' ? -1 : 1).filter(([y]) => y > own.front && y < own.back);
  const off = reach.map(([, x]) => (side === 'right' ? x : top.length - x));
  return Math.max(0, ...off);
}

/** What is measured of a piece between its ends: its depth, its foremost point, and the y between which all of it is wood. */
interface LiveEdges {
  readonly depth: readonly [least: number, most: number];
  readonly foremost: number;
  readonly front: number;
  readonly back: number;
}

/** Measures a piece, leaving out what its ends bound. @param behind y of the finished back edge where that is straight */
function measuredEdges(ring: Polygon<'top'>, limits: Polygon<'top'>, top: Top, behind: number): LiveEdges {
  const { front, back, ends, scribe, length } = top;
  const from = ends.right.edge === 'live' ? ends.right.short : -scribe.right;
  const to = ends.left.edge === 'live' ? length - ends.left.short : length + scribe.left;
  // A slanted end bounds wood at many x.
  const slanted = [ends.right, ends.left].some(({ edge, degrees }) => edge === 'straight' && degrees !== 90);
  const [near, far] = [edgeOver(ring, -1), edgeOver(ring, 1)];
  let [least, most, foremost, deepestFront, nearestBack] = [Infinity, -Infinity, Infinity, -Infinity, Infinity];
  near.forEach(([x, y], i) => {
    const rear = (far[i] as Point<'top'>)[1];
    if (x < from || x > to) return;
    const bounded = (at: number): boolean => {
      const p: Point<'top'> = [x, at];
      return slanted && outlineOn(limits, [p, p], 2 * ROUNDING);
    };
    if (front === 'live' && !bounded(y)) {
      [foremost, deepestFront] = [Math.min(foremost, y), Math.max(deepestFront, y)];
      const deep = (back === 'live' ? rear : behind) - y;
      [least, most] = [Math.min(least, deep), Math.max(most, deep)];
    }
    if (back === 'live' && !bounded(rear)) {
      nearestBack = Math.min(nearestBack, rear);
      if (front !== 'live') [least, most] = [Math.min(least, rear), Math.max(most, rear)];
    }
  });
  return {
    depth: front === 'live' || back === 'live' ? [least, most] : [behind, behind],
    foremost: front === 'live' ? foremost : 0,
    front: front === 'live' ? deepestFront : 0,
    back: back === 'live' ? nearestBack : behind,
  };
}

/** The top where it lies, or null where the wood does not give it there. */
function pieceAt(stock: FaceStock, lie: Lie, top: Top, shop: Shop): Candidate | null {
  let { toTop } = lie;
  let behind = lie.depth[1];
  // A live end is laid against the end of the top, a live front against y = 0: each moves the other a little, so it is done twice.
  for (let i = 0; i < 2; i++) {
    const limits = limitsOf(top, behind);
    const rough = woodIn(stock, toTop, limits);
    if (!rough) return null;
    const dx = ontoEnds(rough, top);
    const { foremost } = measuredEdges(rough, limits, top, behind);
    if (!Number.isFinite(foremost)) return null;
    toTop = shifted(toTop, dx, -foremost);
    behind -= foremost;
  }
  const [least, most] = top.depth;
  let limits = limitsOf(top, behind);
  const before = woodIn(stock, toTop, limits);
  if (!before) return null;
  const own = measuredEdges(before, limits, top, behind);
  const { depth } = own;
  if (!(depth[0] >= least - ROUNDING && depth[1] <= most + ROUNDING)) return null;
  limits = limitsOf(top, top.back === 'live' ? depth[1] : behind);
  const finished = woodIn(stock, toTop, limits);
  if (!finished) return null;
  const ends = bounds(finished);
  for (const side of ['right', 'left'] as const) {
    if (top.ends[side].edge !== 'live') continue;
    const over = side === 'right' ? -ends.minX : ends.maxX - top.length;
    if (over > ROUNDING || shortAt(side, finished, top, own) > top.ends[side].short) return null;
  }
  const live =
    top.front === 'live' || top.back === 'live' || top.ends.right.edge === 'live' || top.ends.left.edge === 'live';
  if (!live && Math.abs(ringArea(finished) - ringArea(limits)) > 1) return null;
  if (!sawnInside(stock, toTop, finished, limits)) return null;
  const box = bounds(finished);
  const rough = woodIn(
    stock,
    toTop,
    rectangle<'top'>(
      box.minX - shop.endAllowance,
      box.minY - shop.jointAllowance,
      box.maxX + shop.endAllowance,
      box.maxY + shop.jointAllowance,
    ),
  );
  if (!rough) return null;
  const toFace = invert(toTop);
  const strip: Strip = {
    flitch: stock.flitch.id,
    slab: stock.slab.id,
    face: stock.face,
    toTop: [...toTop.m],
    finished: applyAll(toFace, finished),
    rough: applyAll(toFace, rough),
    jointFront: null,
    jointBack: null,
  };
  if (spoiltBy(stock, strip, top)) return null;
  const thickness = thinnest([stock], [strip], shop, 'facets');
  return {
    top,
    stock: [stock],
    placement: { top: top.id, strips: [strip], joints: [], depth: [depth[0], depth[1]], thickness },
  };
}

/** How far along a piece is to be moved for its live ends to lie at the ends of the top. */
function ontoEnds(ring: Polygon<'top'>, { ends, length }: Top): number {
  const { minX, maxX } = bounds(ring);
  const [right, left] = [ends.right.edge === 'live', ends.left.edge === 'live'];
  if (right && left) return (length - minX - maxX) / 2;
  return right ? -minX : left ? length - maxX : 0;
}

/** The first of a ranking, none near to one before it. */
function* apart(lies: readonly Lie[]): Generator<Lie> {
  const kept: Lie[] = [];
  for (const lie of [...lies].sort((a, b) => a.rank - b.rank)) {
    const near = kept.some((k) => {
      const { m } = compose(lie.toTop, invert(k.toTop));
      return Math.abs(m[1]) < 0.01 && m[0] > 0 && Math.hypot(m[4], m[5]) < NEAR;
    });
    if (near) continue;
    kept.push(lie);
    yield lie;
  }
}

/** So many lies of a face are measured closely at the most. */
const MEASURED = 60;

/**
 * Places of one piece on a face, the most promising first.
 * @param stock the face as it is offered to the top
 * @param most so many are given
 */
export function freePlaces(stock: FaceStock, top: Top, shop: Shop, most: number): Candidate[] {
  const found: Candidate[] = [];
  let tried = 0;
  for (const lie of apart(liesOf(stock, top, shop))) {
    if (found.length === most || tried === MEASURED) break;
    tried++;
    const made = pieceAt(stock, lie, top, shop);
    if (made) found.push(made);
  }
  return found;
}
