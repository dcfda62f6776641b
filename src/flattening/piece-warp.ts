import { type Affine, apply, type Bounds, type Point } from '../geometry';
import type { Faces } from '../surface';

/** The warp of a piece as straightedge and winding sticks tell it, mm. */
export interface PieceWarp {
  /** Along: positive with the ends high. */
  readonly bow: number;
  /** Across: positive with the edges high. */
  readonly cup: number;
  /** Lift of the fourth corner: positive where the corner of most x and y is high. */
  readonly twist: number;
}

const [ALONG, ACROSS] = [40, 12];

/**
 * Bow, cup and twist of the middle of a piece's thickness: the farthest that it strays from a straightedge laid along it, across it, and how
 * far its fourth corner stands off the plane of the other three.
 * @param box the piece in its own frame, x along; `toFace` carries that to the readings
 */
export function pieceWarp(faces: Faces, { minX, minY, maxX, maxY }: Bounds, toFace: Affine<'top', 'face'>): PieceWarp {
  const z = (i: number, k: number): number => {
    const at: Point<'top'> = [minX + ((maxX - minX) * i) / ALONG, minY + ((maxY - minY) * k) / ACROSS];
    const p = apply(toFace, at);
    return (faces.top.height(p) + faces.bottom.height(p)) / 2;
  };
  const grid = Array.from({ length: ALONG + 1 }, (_, i) => Array.from({ length: ACROSS + 1 }, (_, k) => z(i, k)));
  const at = (i: number, k: number): number => grid[i]?.[k] as number;
  const rows = Array.from({ length: ACROSS + 1 }, (_, k) => Array.from({ length: ALONG + 1 }, (_, i) => at(i, k)));
  return {
    bow: farthest(rows.map(sagitta)),
    cup: farthest(grid.map(sagitta)),
    twist: at(0, 0) + at(ALONG, ACROSS) - at(ALONG, 0) - at(0, ACROSS),
  };
}

/** How far a line of heights strays from the straight line between its ends; positive with the ends high. */
function sagitta(heights: readonly number[]): number {
  const [first, last] = [heights[0] as number, heights.at(-1) as number];
  return farthest(heights.map((z, i) => first + ((last - first) * i) / (heights.length - 1) - z));
}

const farthest = (us: readonly number[]): number =>
  us.reduce((most, u) => (Math.abs(u) > Math.abs(most) ? u : most), 0);
