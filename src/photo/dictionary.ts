import { InputProblem } from '../units';

/**
 * The 50 square markers of the dictionary DICT_4X4_50 of OpenCV's aruco module (predefined dictionaries, Apache-2.0; the codes as its
 * generateImageMarker draws them): 4 x 4 cells row by row, light is 1, the first cell the highest bit.
 */
const CODES = [
  0xb532, 0x0f9a, 0x332d, 0x9946, 0x549e, 0x79cd, 0x9e2e, 0xc4f2, 0xfeda, 0xcf56, 0xf991, 0x11a7, 0x0eb7, 0x2a0f,
  0x24b1, 0x263e, 0x4665, 0x6600, 0x6c5e, 0x76af, 0x868b, 0xb02b, 0xccd5, 0xdd82, 0xfe47, 0x9471, 0xace4, 0xa554,
  0x2123, 0x346f, 0x4415, 0x57b2, 0x9ecf, 0xf0cb, 0x08ae, 0x0929, 0x1875, 0x04ff, 0x0df6, 0x1c5a, 0x1718, 0x2a28,
  0x328c, 0x38b2, 0x24e8, 0x2eeb, 0x2d3f, 0x4b64, 0x502e, 0x5013,
];

/** How many markers there are: their numbers run from 0. */
export const MARKER_COUNT = CODES.length;
/** Cells along a marker's side: four of the code and its black border. */
export const MARKER_CELLS = 6;
/** White kept around a printed marker, as a share of its side: as its card is cut. */
export const CARD_MARGIN = 0.22;

/**
 * Which of a marker's cells are light, by column and row from its own top left, the border included; what lies outside it is light.
 * @throws InputProblem where there is no such marker
 */
export function markerPattern(id: number): (column: number, row: number) => boolean {
  const code = CODES[id];
  if (code === undefined) {
    throw new InputProblem(`There is no marker ${id} in dictionary 4x4_50.`, '', 'Use numbers from 0 to 49.');
  }
  const last = MARKER_CELLS - 1;
  return (column, row) => {
    if (column < 0 || row < 0 || column > last || row > last) return true;
    if (column === 0 || row === 0 || column === last || row === last) return false;
    return ((code >> (15 - (4 * (row - 1) + column - 1))) & 1) === 1;
  };
}
