import { type Affine, applyAll, bounds, crossingsAtX, type Polygon, rigid } from '../geometry';
import type { Shop, Top } from '../job';
import { anglesOf, stripPlaces } from './columns';
import { limitsOf } from './sawn';
import { type FaceStock, usable } from './stock';
import { layEdge } from './strips';

/** Where on a face a top could lie that is looked for by itself, found in columns: coarse, to be measured on the exact outline. */

const COLUMN = 10;
/** A column that stands on an upright edge is looked at beside it, mm. */
const ASIDE = 1e-3;
/** Rounding of the clipping library, mm. */
const ROUNDING = 0.01;

type Stretches = readonly (readonly [from: number, to: number])[];

/** Where a top could lie: the map from the face, and its depth. */
export interface Lie {
  readonly toTop: Affine<'face', 'top'>;
  readonly depth: readonly [least: number, most: number];
  /** Less is better. */
  readonly rank: number;
}

export const shifted = (map: Affine<'face', 'top'>, dx: number, dy: number): Affine<'face', 'top'> => {
  const [a, b, c, d, e, f] = map.m;
  return { m: [a, b, c, d, e + dx, f + dy] };
};

const turnedTo = (degrees: number): Affine<'face', 'top'> => rigid(-degrees, 0, 0);

/** Angle against the slab that a top's grain asks for, and how far to either side. */
function turnOf({ grain }: Top, shop: Shop): { turn: number; angle: number } {
  return grain ? { turn: -grain.degrees, angle: grain.tolerance } : { turn: 0, angle: shop.seam.angle };
}

/** Lies with one straight edge to measure from, as strips of the slab: the back, or with a live back alone the front. */
function besideStraight(stock: FaceStock, top: Top, shop: Shop): Lie[] {
  const { scribe, wallBow, ends, length } = top;
  const flipped = top.back === 'live';
  const behind = flipped ? 0 : scribe.back + wallBow;
  const from = ends.right.edge === 'live' ? ends.right.short : -scribe.right;
  const to = ends.left.edge === 'live' ? length - ends.left.short : length + scribe.left;
  // Turned half about, right is left.
  const near = ends[flipped ? 'left' : 'right'];
  const far = ends[flipped ? 'right' : 'left'];
  const wish = {
    length: to - from,
    depth: [top.depth[0] + behind, top.depth[1] + behind] as const,
    front: flipped ? ('live' as const) : top.front,
    ...turnOf(top, shop),
    ...((near.edge === 'live' || far.edge === 'live') && {
      ends: {
        ...(near.edge === 'live' && { right: 2 * near.short }),
        ...(far.edge === 'live' && { left: 2 * far.short }),
      },
    }),
    ...(top.sapwood === 'wanted' && { sapwood: stock.sapwood() }),
  };
  return stripPlaces(stock, wish).flatMap(({ back: [p, q] }, i): Lie[] => {
    const base = flipped ? layEdge([q, p], 0) : layEdge([p, q], 0);
    const ring = applyAll(base, stock.outline.outer);
    // Depth on the exact outline: from the straight edge at y = 0 to the wood's own.
    const depths = depthsTo(ring, flipped ? 1 : -1, to - from);
    if (!depths) return [];
    const live = flipped || top.front === 'live';
    const depth: readonly [number, number] = live
      ? [depths[0] - behind, depths[1] - behind]
      : [Math.min(top.depth[1], depths[0] - behind), Math.min(top.depth[1], depths[0] - behind)];
    if (depth[0] < top.depth[0] - ROUNDING || depth[1] > top.depth[1] + ROUNDING) return [];
    return [{ toTop: shifted(base, from, flipped ? 0 : depth[1] + behind), depth, rank: i }];
  });
}

/** Least and most way from y = 0 to the first edge of the wood on one side, for x in [0, length]; null where y = 0 is not in the wood. */
function depthsTo(ring: Polygon<'top'>, side: -1 | 1, length: number): readonly [number, number] | null {
  let [least, most] = [Infinity, -Infinity];
  const inset = 1e-6 * length;
  const corners = ring.flatMap(([x]) => [x - 1e-7, x + 1e-7]).filter((x) => x > inset && x < length - inset);
  for (const x of [inset, ...corners, length - inset]) {
    const beyond = crossingsAtX(ring, x)
      .map((y) => side * y)
      .filter((y) => y > 0);
    if (beyond.length % 2 === 0) return null;
    const depth = Math.min(...beyond);
    [least, most] = [Math.min(least, depth), Math.max(most, depth)];
  }
  return [least, most];
}

/** Lies between the slab's two live edges, the calmest first. */
function betweenLive(stock: FaceStock, top: Top, shop: Shop): Lie[] {
  const { scribe, ends, length, depth: band } = top;
  const from = ends.right.edge === 'live' ? ends.right.short : -scribe.right;
  const to = ends.left.edge === 'live' ? length - ends.left.short : length + scribe.left;
  const count = Math.ceil((to - from) / COLUMN) + 1;
  const lies: Lie[] = [];
  for (const half of [0, 180]) {
    for (const degrees of anglesOf(turnOf(top, shop))) {
      const turn = turnedTo(degrees + half);
      const ring = applyAll(turn, stock.outline.outer);
      const { minX, maxX } = bounds(ring);
      const columns = Array.from({ length: Math.floor((maxX - minX) / COLUMN) }, (_, k) => {
        const ys = crossingsAtX(ring, minX + (k + 0.5) * COLUMN);
        return [ys[0] ?? Number.NaN, ys.at(-1) ?? Number.NaN] as const;
      });
      for (let start = 0; start + count <= columns.length; start += 2) {
        const own = columns.slice(start, start + count);
        const [fronts, backs] = [own.map(([y]) => y), own.map(([, y]) => y)];
        const deep = own.map(([near, far]) => far - near);
        const depth = [Math.min(...deep), Math.max(...deep)] as const;
        if (!(depth[0] >= band[0] && depth[1] <= band[1])) continue;
        const foremost = Math.min(...fronts);
        const rank = Math.max(...fronts) - foremost + Math.max(...backs) - Math.min(...backs);
        lies.push({ toTop: shifted(turn, from - (minX + (start + 0.5) * COLUMN), -foremost), depth, rank });
      }
    }
  }
  return lies;
}

/** What a ring needs of the wood, column by column: from its foremost to its rearmost point there. */
interface Need {
  readonly depth: number;
  readonly minX: number;
  readonly columns: readonly (readonly [from: number, to: number])[];
}

function needOf(top: Top, depth: number): Need {
  const limits = limitsOf(top, depth);
  const { minX, maxX } = bounds(limits);
  const columns = Array.from({ length: Math.floor((maxX - minX) / COLUMN) + 1 }, (_, k) => {
    const ys = crossingsAtX(limits, minX + Math.min(k * COLUMN + ASIDE, maxX - minX - ASIDE));
    return [ys[0] ?? 0, ys.at(-1) ?? 0] as const;
  });
  return { depth, minX, columns };
}

/** Heights at which a ring fits into these columns of wood, each with its rank: in the middle of the room, and to either side of it. */
function heightsFor({ columns }: Need, wood: readonly Stretches[]): (readonly [y: number, rank: number])[] {
  let open: Stretches = [[-Infinity, Infinity]];
  for (const [k, [low, high]] of columns.entries()) {
    const fits = (wood[k] ?? []).map(([s, e]) => [s - low, e - high] as const);
    open = open.flatMap(([s, e]) =>
      fits.flatMap(([t, f]) => (Math.max(s, t) <= Math.min(e, f) ? [[Math.max(s, t), Math.min(e, f)] as const] : [])),
    );
    if (open.length === 0) return [];
  }
  // In the middle there is most room on either side; beside an edge less wood is spoilt.
  return open.flatMap(([s, e]) =>
    (
      [
        [(s + e) / 2, 1 / (1 + e - s)],
        [s + 1, 1],
        [e - 1, 1],
      ] as const
    ).filter(([y]) => y >= s && y <= e),
  );
}

/** Lies of a ring that is wood all over: each column of it must fit into the usable wood there. */
function ofShape(stock: FaceStock, top: Top, shop: Shop): Lie[] {
  const needs = [...new Set([top.depth[1], (top.depth[0] + top.depth[1]) / 2, top.depth[0]])].map((depth) =>
    needOf(top, depth),
  );
  const wood = usable(stock);
  const lies: Lie[] = [];
  for (const half of [0, 180]) {
    for (const degrees of anglesOf(turnOf(top, shop))) {
      const turn = turnedTo(degrees + half);
      const rings = wood.flatMap(({ outer, holes }) => [outer, ...holes]).map((ring) => applyAll(turn, ring));
      if (rings.length === 0) return [];
      const { minX, maxX } = bounds(rings.flat());
      const stretches = Array.from({ length: Math.floor((maxX - minX) / COLUMN) + 1 }, (_, k) => {
        const ys = rings.flatMap((ring) => crossingsAtX(ring, minX + k * COLUMN + ASIDE)).sort((a, b) => a - b);
        return ys.flatMap((y, i) => (i % 2 === 0 && i + 1 < ys.length ? [[y, ys[i + 1] as number] as const] : []));
      });
      for (const need of needs)
        for (let start = 0; start + need.columns.length <= stretches.length; start++)
          for (const [y, rank] of heightsFor(need, stretches.slice(start, start + need.columns.length)))
            lies.push({
              toTop: shifted(turn, need.minX - (minX + start * COLUMN), -y),
              depth: [need.depth, need.depth],
              rank,
            });
    }
  }
  return lies;
}

/** Where a top could lie on a face, in no order; less rank is better. */
export function liesOf(stock: FaceStock, top: Top, shop: Shop): Lie[] {
  const { front, back, ends, shape } = top;
  if (shape) return ofShape(stock, top, shop);
  if (front === 'live' && back === 'live') return betweenLive(stock, top, shop);
  const straight = [front, back, ends.right.edge, ends.left.edge].every((edge) => edge === 'straight');
  return straight ? ofShape(stock, top, shop) : besideStraight(stock, top, shop);
}
