import { difference, intersection, type Polygon, type Region, regionArea, regionsArea } from '../geometry';
import type { Strip } from '../job';
import type { LeastSize } from './clear-rectangle';
import type { SawCut } from './cuts';
import { type ClearPiece, clearPieces, holdsPiece } from './offcut-rectangles';

/** What is left of a slab and worth keeping. */
export interface Offcut {
  readonly polygon: Polygon<'face'>;
  /** Rectangles of use in it, clear of defects and a kerf apart, the largest first. At least one. */
  readonly pieces: readonly ClearPiece[];
  readonly area: number;
}

/** Where a slab's area goes. They add up: stock = parts + kerf + offcuts + waste. mm2. */
export interface SlabAreas {
  readonly stock: number;
  readonly parts: number;
  readonly kerf: number;
  readonly offcuts: number;
  readonly waste: number;
}

/** What the cuts leave of a slab. */
export interface LeftOver {
  /** Pieces that hold a clear rectangle of use, as they fall from the saw. */
  readonly kept: readonly Region<'face'>[];
  readonly areas: SlabAreas;
}

/** An offcut is kept when it holds a clear piece of this size: a drawer front's rail, a key blank (common practice, no source). */
export const LEAST_PIECE: LeastSize = { long: 300, short: 60 };
/** Rectangles that are named of one offcut. */
const MOST_PIECES = 4;

/**
 * What falls off a slab from which `pieces` are sawn by `cuts`, and where its area goes.
 * @param forbidden what no rectangle may hold
 */
export function leftOver(
  outline: Region<'face'>,
  pieces: readonly Pick<Strip, 'finished' | 'rough'>[],
  cuts: readonly SawCut[],
  forbidden: readonly Region<'face'>[],
): LeftOver {
  const finished = pieces.map((piece): Region<'face'> => ({ outer: piece.finished, holes: [] }));
  const rough = pieces.map((piece): Region<'face'> => ({ outer: piece.rough, holes: [] }));
  const dust = cuts.map((cut): Region<'face'> => ({ outer: cut.dust, holes: [] }));
  const kept = difference([outline], [...rough, ...dust]).filter((rest) =>
    holdsPiece(difference([rest], forbidden), LEAST_PIECE),
  );
  const stock = regionArea(outline);
  const parts = regionsArea(finished);
  const kerf = regionsArea(difference(intersection([outline], dust), finished));
  const offcuts = regionsArea(kept);
  // The checker measures the waste for itself.
  return { kept, areas: { stock, parts, kerf, offcuts, waste: stock - parts - kerf - offcuts } };
}

/** The kept pieces with the rectangles that can be cut from them by a saw of that kerf, within a few degrees of the grain. */
export function offcutsOf(
  { kept }: Pick<LeftOver, 'kept'>,
  forbidden: readonly Region<'face'>[],
  kerf: number,
  grain = 0,
): Offcut[] {
  return kept.map((rest) => {
    const wood = difference([rest], forbidden);
    const along = clearPieces(wood, LEAST_PIECE, kerf, MOST_PIECES, grain);
    // Kept for a piece along the slab: where its grain runs otherwise, that one is better than none.
    const pieces = along.length > 0 ? along : clearPieces(wood, LEAST_PIECE, kerf, MOST_PIECES);
    return { polygon: rest.outer, pieces, area: regionArea(rest) };
  });
}
