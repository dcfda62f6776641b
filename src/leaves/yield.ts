import { pieceWarp, thicknessOfBlank } from '../flattening';
import { rectangle } from '../geometry';
import type { Board, Shop } from '../job';
import { warpFaces } from '../surface';
import { um } from './micrometres';
import { type Strips, stripsOf } from './rip';
import { leavesBy, type Saw, WAYS, type Way } from './ways';

/** What resawing reads of a board, and of the shop. */
export type ResawBoard = Pick<Board, 'length' | 'width' | 'thickness' | 'warp'>;
export type ResawShop = Pick<Shop, 'resaw' | 'kerf'>;

/** A board made ready for the saw: ripped if it must be, one face flattened. mm. */
export interface ReadyBoard {
  readonly strips: Strips;
  /** What is sound between two flat faces once one is flattened, at the thinnest; and what cup, bow and twist took. */
  readonly flat: number;
  readonly warped: number;
  /** How the blade's wandering enters: over the height of a strip, and what of it every leaf is sawn thicker. */
  readonly wedge: { readonly over: number; readonly added: number };
  readonly saw: Saw;
}

/** To the micrometre below, so that no leaf is counted that a last digit made. */
const downToMicrometre = (mm: number): number => Math.floor(mm * 1000 + 1e-6) / 1000;

/**
 * The thickest parallel board in a part of a warped one, by the flattening room (TRADE 5: T less bow, cup and half the twist). A part cut off
 * before it is flattened loses less than the whole.
 * @param along from one end to the other, 0 to the board's length; `across` likewise
 */
export function flatThickness(
  { length, width, thickness, warp }: ResawBoard,
  along: readonly [number, number] = [0, length],
  across: readonly [number, number] = [0, width],
): number {
  const { bow, cup, twist } = warp ?? { bow: null, cup: null, twist: null };
  if (!bow && !cup && !twist) return thickness;
  const faces = warpFaces({ length, width, thickness, bow: bow ?? 0, cup: cup ?? 0, twist: twist ?? 0 });
  const [x, y] = [-length / 2, -width / 2];
  const box = { minX: x + along[0], minY: y + across[0], maxX: x + along[1], maxY: y + across[1] };
  const own = pieceWarp(faces, box, { m: [1, 0, 0, 1, 0, 0] });
  // Where it bends by more than it is thick nothing lies flat inside it.
  if (Math.max(Math.abs(own.bow), Math.abs(own.cup), Math.abs(own.twist) / 2) >= thickness) return 0;
  const part = rectangle<'face'>(box.minX, box.minY, box.maxX, box.maxY);
  return Math.max(0, downToMicrometre(thicknessOfBlank(faces, part).thickest));
}

/**
 * The blade's wandering over the height of a strip is a wedge in every leaf. As much as the tolerance is evened out in sanding; what is over it is
 * added to the leaf as it is sawn, so that its thin edge still measures what it must (derived). The angle at which a blade likes to be fed, to
 * which the fence is set, costs nothing.
 */
function wedgeOver(height: number, drift: Shop['resaw']['drift']): ReadyBoard['wedge'] {
  const over = um(((drift?.per100 ?? 0) * height) / 100) / 1000;
  return { over, added: Math.max(0, um(over) - um(drift?.tolerance ?? 0)) / 1000 };
}

/** A board made ready, with the figures that every way of working counts with. */
export function readyBoard(board: ResawBoard, { resaw, kerf }: ResawShop): ReadyBoard {
  const strips = stripsOf(board.width, resaw.height ?? null, kerf.fine);
  const step = strips.width + kerf.fine;
  const flat = Math.min(
    ...Array.from({ length: strips.count }, (_, i) =>
      flatThickness(board, undefined, [i * step, i * step + strips.width]),
    ),
  );
  const wedge = wedgeOver(strips.width, resaw.drift);
  return {
    strips,
    flat,
    warped: (um(board.thickness) - um(flat)) / 1000,
    wedge,
    saw: sawOf(flat, wedge.added, resaw),
  };
}

/** A flat thickness as the shop's saw takes it. */
function sawOf(thickness: number, added: number, resaw: Shop['resaw']): Saw {
  const { leaf, kerf, dressing, faceAllowance, backAllowance = faceAllowance, lastPiece } = resaw;
  const sawn = um(leaf.thickness + leaf.sanding) + um(added);
  return { thickness, leaf: sawn / 1000, kerf, dressing, faceAllowance, backAllowance, lastPiece };
}

/** What a board that is not there yet would be sawn with: flat, and as high as given. */
export const sawAt = (thickness: number, height: number, { resaw }: Pick<Shop, 'resaw'>): Saw =>
  sawOf(thickness, wedgeOver(height, resaw.drift).added, resaw);

/** Leaves by every way of working, strip by strip all alike: 0 where planing alone takes more than there is. */
export const compareWays = (saw: Saw): { readonly way: Way; readonly leaves: number }[] =>
  WAYS.map((way) => ({ way, leaves: canBePlaned(saw, way) ? leavesBy(saw, way) : 0 }));

/** Whether there is enough wood for the planing before the first cut. */
export const canBePlaned = (saw: Saw, way: Way): boolean =>
  um(saw.faceAllowance) + (way.carrier ? um(saw.backAllowance) : 0) <= um(saw.thickness);
