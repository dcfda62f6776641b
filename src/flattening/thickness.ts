import type { Point, Polygon, Region } from '../geometry';
import { seededRandom } from '../search';
import type { Faces, SmoothFaces, Spot3 } from '../surface';
import { type Board, thickestBoard } from './board';
import { lifted, type Plane } from './planes';

/** Surfaces of both faces, ready to be asked about any blank. */
export type BlankSurfaces = Faces;

/** The thickest board of a blank, with the spots that it was found from. */
export interface BlankBoard {
  /** Thickness to count on, mm, square to the planes. */
  readonly thickest: number;
  readonly sigma: number;
  /** The underside of a board of that thickness. */
  readonly plane: Plane;
  readonly limits: Board['limits'];
  readonly top: readonly Spot3[];
  readonly bottom: readonly Spot3[];
}

/** Ways that the wood may really lie which are tried where the surfaces know what they do not know. */
const DRAWS = 48;

/** The thickest parallel board inside a region of the slab. */
export function boardOver(faces: Faces | SmoothFaces, region: Region<'face'>): BlankBoard {
  const top = faces.top.spotsOver(region);
  const bottom = faces.bottom.spotsOver(region);
  const board = thickestBoard(top, bottom);
  if ('draws' in faces) {
    const { mean, sigma } = expected(faces, region);
    // Between readings the wood is rougher than its most likely face, so the board to count on is thinner than the one under that face.
    const thickest = Math.min(board.thickness, mean);
    const plane = lifted(board.plane, (board.thickness - thickest) / 2);
    return { thickest, sigma, plane, limits: board.limits, top, bottom };
  }
  return {
    thickest: board.thickness,
    sigma: sigmaOf(faces, board),
    plane: board.plane,
    limits: board.limits,
    top,
    bottom,
  };
}

/**
 * The quick call for laying out: the thickest board of one blank, in much less than a millisecond for readings that a person takes.
 */
export function thicknessOfBlank(
  surfaces: BlankSurfaces,
  polygon: Polygon<'face'>,
): { readonly thickest: number; readonly sigma: number; readonly limits: Board['limits'] } {
  const { thickest, sigma, limits } = boardOver(surfaces, { outer: polygon, holes: [] });
  return { thickest, sigma, limits };
}

/** The thickness follows each limiting spot by its share, so its variance is the sum of their shares' (spots taken as independent). */
function sigmaOf(faces: Faces, { limits }: Board): number {
  const square = limits.reduce(
    (sum, { face, at, share }) => sum + (share * faces[face].sigma(at as Point<'face'>)) ** 2,
    0,
  );
  return Math.sqrt(square);
}

/** Mean and standard deviation of the thickest board over the ways that the faces may really lie. */
function expected(faces: SmoothFaces, region: Region<'face'>): { mean: number; sigma: number } {
  const { normal } = seededRandom(1);
  const draws = faces.draws(region, DRAWS, normal).map(({ top, bottom }) => thickestBoard(top, bottom).thickness);
  const mean = draws.reduce((sum, t) => sum + t, 0) / draws.length;
  const square = draws.reduce((sum, t) => sum + (t - mean) ** 2, 0) / (draws.length - 1);
  return { mean, sigma: Math.sqrt(square) };
}
