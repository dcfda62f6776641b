import { bounds } from '../geometry';
import type { Board } from '../job';

/** A leaf before it is sawn, or the strip that it comes from: its size, and what of it is spoilt, mm from its left end and its edge. */
export interface ClearFace {
  readonly length: number;
  readonly width: number;
  readonly spoilt: readonly SpoiltBox[];
}

interface SpoiltBox {
  readonly from: number;
  readonly to: number;
  readonly low: number;
  readonly high: number;
}

/** A piece with its grain along the leaf. */
export interface ClearPiece {
  readonly length: number;
  readonly width: number;
}

/**
 * The strips of a board as faces to be cut up. A stretch that is spoilt goes through all of them; of an outline the box around it.
 * @param count strips, with a kerf between two
 */
export function clearFaces(
  { length, spoilt = [] }: Pick<Board, 'length' | 'spoilt'>,
  { count, width }: { readonly count: number; readonly width: number },
  kerf: number,
): ClearFace[] {
  const boxes = spoilt.map((each): SpoiltBox => {
    if (!('polygon' in each)) return { from: each.from, to: each.to, low: -Infinity, high: Infinity };
    const { minX, minY, maxX, maxY } = bounds(each.polygon);
    return { from: minX, to: maxX, low: minY, high: maxY };
  });
  return Array.from({ length: count }, (_, i) => {
    const edge = i * (width + kerf);
    const own = boxes.map((box) => ({ ...box, low: box.low - edge, high: box.high - edge }));
    return { length, width, spoilt: own.filter(({ low, high }) => low < width && high > 0) };
  });
}

/**
 * The first place from `from` on where a piece begins and holds nothing spoilt; null where there is none. It is where the one before ends, or where
 * something spoilt does.
 */
export function nextClear(face: ClearFace, piece: ClearPiece, from: number): number | null {
  const starts = [from, ...face.spoilt.map(({ to }) => to).filter((to) => to > from)].sort((a, b) => a - b);
  return starts.find((at) => at + piece.length <= face.length + 1e-6 && isClear(face, piece, at)) ?? null;
}

/** Whether so wide a piece passes beside all that is spoilt within its length. */
function isClear({ width, spoilt }: ClearFace, piece: ClearPiece, at: number): boolean {
  const met = spoilt
    .filter(({ from, to }) => from < at + piece.length && to > at)
    .sort((one, other) => one.low - other.low);
  let free = 0;
  for (const { low, high } of met) {
    if (low - free >= piece.width) return true;
    free = Math.max(free, high);
  }
  return width - free >= piece.width - 1e-6;
}

/** The longest stretch of a face that is clear over its whole width. */
export function longestClear(face: ClearFace): number {
  const ends = [0, ...face.spoilt.map(({ to }) => to)].filter((at) => at < face.length);
  const runs = ends.map((at) => {
    if (face.spoilt.some(({ from, to }) => from <= at && to > at)) return 0;
    return Math.min(face.length, ...face.spoilt.map(({ from }) => from).filter((from) => from >= at)) - at;
  });
  return Math.max(0, ...runs);
}

/** How many pieces, a kerf apart, come out of one leaf: each as far to the left as it goes, which no other order betters (they are alike). */
export function piecesAlong(face: ClearFace, piece: ClearPiece, kerf: number): number {
  let count = 0;
  for (let at = nextClear(face, piece, 0); at !== null; at = nextClear(face, piece, at + piece.length + kerf)) count++;
  return count;
}
