import type { Shop } from '../job';
import { boardFeet, QUARTERS } from '../wood';
import { abreastOf, leavesFor, type WantedFace } from './spare';
import type { Way } from './ways';
import { sawAt } from './yield';
import type { ClearFace } from './yield-clear';
import { leastThickness } from './yield-next';

/** Boards that would do for a list of doors, all alike, flat and clear. mm. */
export interface BoardToBuy {
  readonly boards: number;
  readonly length: number;
  readonly width: number;
  /** Least that does, to the micrometre, and the thickness of the trade that has it; null where none is so thick. */
  readonly thickness: number;
  readonly trade: { readonly name: string; readonly thickness: number } | null;
  /** Leaves of each board, and how many of all are over. */
  readonly leaves: number;
  readonly spare: number;
  /** Of all boards, at the thickness of the trade, or as thick as they must be. */
  readonly boardFeet: number;
}

/** Most that boards are parted into, leaves side by side in the widest face, and lengths out of one board, that are tried (ours). */
const [MOST_BOARDS, MOST_ABREAST, MOST_LENGTHS] = [4, 4, 4];
/** Boards over this length are rare and hard to bring home, mm (practice). */
const LONGEST = 4000;
/** Narrower leaves than this are no panel any more, mm: AWS p. 84 asks 76 of quartered ones in its best grade. */
const NARROWEST = 76;

/**
 * Boards that give all faces and so many leaves over, one choice for as many leaves side by side, each of the least size, the widest leaves
 * (the fewest joints) first.
 * Rough boards: what flattening takes of a warped one comes on top.
 * @param spare leaves kept over, of each board
 */
export function boardsToBuy(
  faces: readonly WantedFace[],
  { shop, way, spare }: { readonly shop: Pick<Shop, 'resaw' | 'kerf'>; readonly way: Way; readonly spare: number },
): BoardToBuy[] {
  if (faces.length === 0) return [];
  const widest = Math.max(...faces.map(({ width }) => width));
  const tallest = Math.max(...faces.map(({ length, rows }) => length / rows));
  const height = shop.resaw.height ?? Infinity;
  const found: BoardToBuy[] = [];
  for (let abreast = 1; abreast <= MOST_ABREAST; abreast++) {
    const width = Math.ceil(widest / abreast - 1e-6);
    if (width > height || (width < NARROWEST && abreast > 1)) continue;
    for (let lengths = 1; lengths <= MOST_LENGTHS; lengths++) {
      const length = Math.ceil(lengths * tallest + (lengths - 1) * shop.kerf.fine - 1e-6);
      if (length > LONGEST && lengths > 1) break;
      const face: ClearFace = { length, width, spoilt: [] };
      const takes = leavesFor(faces, { face }, shop.kerf.fine);
      if (takes === null) continue;
      const packet = Math.max(...faces.map((one) => abreastOf(one, { face })));
      for (let boards = 1; boards <= MOST_BOARDS; boards++) {
        const leaves = Math.ceil(takes / boards / packet) * packet + spare;
        found.push(sized({ boards, length, width, leaves, spare: boards * leaves - takes }, shop, way));
      }
    }
  }
  // Of boards that are one width: as few as the trade's thicknesses allow, since boards of several logs do not match, and the least wood of those.
  const best = new Map<number, BoardToBuy>();
  for (const one of found.sort((a, b) => a.boards - b.boards || a.boardFeet - b.boardFeet))
    if (one.trade && !best.has(one.width)) best.set(one.width, one);
  const bought = [...best.values()].sort((a, b) => b.width - a.width);
  return bought.length > 0 ? bought : found.slice(0, 1);
}

type Size = Pick<BoardToBuy, 'boards' | 'length' | 'width' | 'leaves' | 'spare'>;

function sized(size: Size, shop: Pick<Shop, 'resaw'>, way: Way): BoardToBuy {
  const thickness = leastThickness(sawAt(0, size.width, shop), way, size.leaves);
  const trade = QUARTERS.find(({ rough }) => rough >= thickness);
  const deep = trade?.rough ?? thickness;
  return {
    ...size,
    thickness,
    trade: trade ? { name: trade.name, thickness: trade.rough } : null,
    boardFeet: size.boards * boardFeet({ thickness: deep, width: size.width, length: size.length }),
  };
}
