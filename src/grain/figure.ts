import { evenFaces } from './even-faces';
import type { WoodFace } from './joint-types';
import { highPassed } from './lines';
import { stationSums } from './station-sums';

/**
 * The lines of a face, read coarsely along the grain and finely across it: lightness less its local mean, `[station][row]`, 0 where no sound wood is.
 * Station j has its middle at x0 + (j + .5) STATION, row r at y0 + r + .5, mm.
 */
export interface Figure {
  readonly x0: number;
  readonly y0: number;
  readonly stations: number;
  readonly rows: number;
  readonly lines: Float32Array;
}

/** The figures of faces of one board, equally sharp, for following a figure from face to face; nothing is learnt of joints. */
export function figuresOf(faces: readonly WoodFace[]): Figure[] {
  return evenFaces(faces).map((face) => {
    const sums = stationSums(face);
    const { x0, y0, stations, rows } = sums;
    return { x0, y0, stations, rows, lines: highPassed(sums) };
  });
}
