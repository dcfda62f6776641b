import { contains, type Point, type Polygon } from '../geometry';
import { DEFAULT_SHOP, type Sled } from '../job';
import type { Faces } from '../surface';
import { movement } from '../wood';
import { type Accepted, acceptedSkips } from './accept';
import { areaShare, type Cell, cellsOf } from './cells';
import type { BlankFlattening } from './io';
import { belowReach, type Machines, machineFor } from './machines';
import { type FaceWork, machineWork, type Standing, sidesOf, sledWork } from './passes';
import { lifted, over, type Plane } from './planes';
import { type BlankBoard, boardOver } from './thickness';

/** A blank that is to be flattened. */
export interface BlankRequest {
  readonly id: string;
  readonly polygon: Polygon<'face'>;
  /** Parts of it that need not be met: voids that are filled, cut-outs. */
  readonly holes?: readonly Polygon<'face'>[] | undefined;
  /** Finished thickness wanted; without it, as thick as it gets. */
  readonly finished?: number | undefined;
  /** Where the rest goes when it gets thicker than wanted; 'balanced' where left out. */
  readonly spare?: Spare | undefined;
  /** The face that planing may leave low in places, and over what share of the blank at most. */
  readonly accept?: { readonly face: 'top' | 'bottom'; readonly skip: number } | undefined;
}

/** Off both faces alike, so that the blank stays still; or off the other face first, to keep the figure of one. */
export type Spare = 'balanced' | 'keep top' | 'keep bottom';

/** How the shop flattens, and what becomes of the wood afterwards. */
export interface FlatteningShop extends Machines {
  readonly sled: Sled;
  readonly chips?: { readonly bulk: number } | undefined;
  /** Totals of both faces, mm. */
  readonly sanding: number;
  readonly reserve: { readonly second: number; readonly level: number };
  readonly drying?: { readonly species: string; readonly from: number; readonly to: number } | undefined;
}

/** Pieces that contact, volume and reach are summed over. */
const CELLS = 1500;
/** More corners than this are a live edge: the four that lie farthest out carry the shims. */
const FEW_CORNERS = 6;

/**
 * Everything about flattening one blank: the thickest board, what holds it, shims, passes of both faces, the thickness budget that
 * adds up, and what accepting skips would gain. The passes are those of the first flattening.
 * @throws InputProblem for an unknown species or moisture of `drying`
 */
export function flattenBlank(faces: Faces, blank: BlankRequest, shop: FlatteningShop): BlankFlattening {
  const { polygon } = blank;
  const region = { outer: polygon, holes: blank.holes ?? [] };
  const board = boardOver(faces, region);
  const accept = acceptedSkips(faces, region, board);
  const chosen = chosenOf(accept, blank.accept) ?? board;
  const shrinkage = shop.drying ? shrinkageOf(shop.drying) : 0;
  const reserved = shop.reserve.second + shop.reserve.level + shop.sanding;
  const wanted = blank.finished === undefined ? undefined : (blank.finished + reserved) / (1 - shrinkage);
  const flat = Math.min(chosen.thickest, wanted ?? chosen.thickest);
  const under = lifted(chosen.plane, (chosen.thickest - flat) * UNDER[blank.spare ?? 'balanced']);
  const upper = lifted(under, flat);
  const cells = cellsOf(region, CELLS);
  const bulk = shop.chips?.bulk ?? DEFAULT_SHOP.chips.bulk;
  const standing = (face: 'top' | 'bottom', plane: Plane): Standing => {
    const sign = face === 'top' ? 1 : -1;
    const most = Math.max(...board[face].map(([x, y, z]) => sign * over(plane, x, y, z)));
    const heights = faces[face].heights(cells.map(({ at }) => at as Point<'face'>));
    const removals = heights.map((z, i) => sign * over(plane, ...(cells[i] as Cell).at, z));
    return { polygon, cells, removals, most };
  };
  const [top, bottom] = [standing('top', upper), standing('bottom', under)];
  const finished = finishedThickness(flat, shop);
  return {
    id: blank.id,
    thickest: board.thickest,
    sigma: board.sigma,
    plane: board.plane,
    limits: board.limits.map(({ at, face }) => ({ at, face })),
    shims: shimsOf(faces, polygon, { ...board, plane: chosen.plane }),
    finish: { under, upper },
    faces: [
      { face: 'top', ...sledWork(top, shop.sled, bulk) },
      { face: 'bottom', ...secondWork(bottom, flat, shop, bulk) },
    ].map((face) => ({ ...face, passes: [...face.passes] })) as BlankFlattening['faces'],
    budget: [
      { item: 'rough', mm: bottom.most + flat + top.most },
      { item: 'lost under', mm: bottom.most },
      { item: 'lost over', mm: top.most },
      { item: 'second', mm: shop.reserve.second },
      { item: 'level', mm: shop.reserve.level },
      { item: 'sanding', mm: shop.sanding },
      { item: 'drying', mm: flat * shrinkage },
      { item: 'finished', mm: finished },
    ],
    accept: accept.map(({ face, skip, thickest, most }) => ({ face, skip, thickest, most })),
    short: Math.max(0, (blank.finished ?? finished) - finished),
    beyond: beyond(faces, cells),
    tooLow: bottom.most > 0 || top.most > 0 ? belowReach(flat, shop.sled) : 0,
  };
}

/** Share of what is to spare that goes off the underside. */
const UNDER: Readonly<Record<Spare, number>> = { balanced: 0.5, 'keep top': 1, 'keep bottom': 0 };

/** The thickest of the accepted boards that misses no more than was said; nothing where nothing may be missed. */
function chosenOf(curve: readonly Accepted[], accept: BlankRequest['accept']): Accepted | undefined {
  return accept && curve.findLast(({ face, skip }) => face === accept.face && skip <= accept.skip + 1e-9);
}

/** The underside is made last, with the flat upper face down: on the sled, or by a machine where the shop has one that the blank fits. */
function secondWork(face: Standing, flat: number, shop: FlatteningShop, bulk: number): FaceWork {
  const [length, width] = sidesOf(face.polygon);
  const fitting = machineFor([length, width, flat + Math.max(0, face.most)], face.most, shop);
  return fitting ? machineWork(face, fitting, bulk) : sledWork(face, shop.sled, bulk);
}

/** What a board that is flat now finishes at, mm, once it has dried and all reserves and the sanding are gone. */
export function finishedThickness(flat: number, shop: Omit<FlatteningShop, 'sled'>): number {
  const shrinkage = shop.drying ? shrinkageOf(shop.drying) : 0;
  return flat * (1 - shrinkage) - (shop.reserve.second + shop.reserve.level + shop.sanding);
}

/**
 * Share of its thickness that a board loses as it dries: the larger of radial and tangential, since nobody knows how the rings
 * stand all over a slab. Negative where it takes up moisture, and then the smaller of both gains.
 */
function shrinkageOf(drying: NonNullable<FlatteningShop['drying']>): number {
  return -movement({ ...drying, width: 1, cut: 'through' }).least;
}

/** How high each corner's underside stands over a bench on which the board lies level. */
function shimsOf(faces: Faces, polygon: Polygon<'face'>, { plane, bottom }: BlankBoard): BlankFlattening['shims'] {
  const bench = Math.min(...bottom.map(([x, y, z]) => over(plane, x, y, z)));
  return cornersOf(polygon).map((at) => {
    const height = over(plane, at[0], at[1], faces.bottom.height(at)) - bench;
    return { at, height: Math.max(0, height) };
  });
}

/** The blank's corners; of many, the four that lie farthest out between the axes. */
function cornersOf(polygon: Polygon<'face'>): Polygon<'face'> {
  if (polygon.length <= FEW_CORNERS) return polygon;
  const [xs, ys] = [polygon.map(([x]) => x), polygon.map(([, y]) => y)];
  const [width, height] = [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
  const towards = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const;
  const corners = towards.map(([sx, sy]) => {
    const out = ([x, y]: Point<'face'>): number => (sx * x) / width + (sy * y) / height;
    return polygon.reduce((best, p) => (out(p) > out(best) ? p : best));
  });
  return corners.filter((p, i) => corners.indexOf(p) === i);
}

function beyond(faces: Faces, cells: readonly Cell[]): number {
  const [top, bottom] = [faces.top.reach, faces.bottom.reach];
  return areaShare(cells, ({ at }) => !(contains(top, at) && contains(bottom, at)));
}
