import { InputProblem } from '../units';

/** Lumber measure as North American dealers use it. Lengths in mm inside; the trade counts in inches and feet. */

const INCH = 25.4;
const FOOT = 304.8;
/** A board foot is 144 cubic inches (1 ft x 1 ft x 1 in), in mm3. */
const BOARD_FOOT = 144 * INCH ** 3;

interface Piece {
  /** mm; the nominal thickness, for a board foot is counted on it. */
  readonly thickness: number;
  readonly width: number;
  readonly length: number;
}

function checkPiece(piece: Piece): void {
  for (const key of ['thickness', 'width', 'length'] as const) {
    if (!(piece[key] > 0 && Number.isFinite(piece[key])))
      throw new InputProblem(`The ${key} must be more than 0.`, `/${key}`, `Give the ${key} in mm.`);
  }
}

/** Board feet of one piece: T x W x L / 144 in inches; stock thinner than an inch counts as an inch. */
export function boardFeet(piece: Piece): number {
  checkPiece(piece);
  return (Math.max(piece.thickness, INCH) * piece.width * piece.length) / BOARD_FOOT;
}

/**
 * Surface measure of one piece in whole square feet (NHLA rules, para. 16): width in inches with its fractions times length in whole
 * feet, parts of a foot dropped, over 12, rounded to the nearest. An exact half goes the way `half` says, since the rule has it
 * alternate from piece to piece (from memory).
 */
export function surfaceMeasure(piece: Omit<Piece, 'thickness'>, half: 'up' | 'down' = 'up'): number {
  checkPiece({ ...piece, thickness: 1 });
  // A length that is a whole number of feet must not lose a foot to the last bit of a division.
  const feet = Math.floor(piece.length / FOOT + 1e-9);
  const exact = ((piece.width / INCH) * feet) / 12;
  const isHalf = Math.abs(exact - Math.floor(exact) - 0.5) < 1e-9;
  if (isHalf) return half === 'up' ? Math.ceil(exact) : Math.floor(exact);
  return Math.round(exact);
}

/** Surface measure and board feet of a pile, exact halves going up and down in turn, in the order given. */
export function tally(pieces: readonly Piece[]): { readonly surface: number; readonly boardFeet: number } {
  let up = true;
  let surface = 0;
  let feet = 0;
  for (const piece of pieces) {
    const one = surfaceMeasure(piece, up ? 'up' : 'down');
    if (one !== surfaceMeasure(piece, up ? 'down' : 'up')) up = !up;
    surface += one;
    feet += one * Math.max(1, piece.thickness / INCH);
  }
  return { surface, boardFeet: feet };
}

/** Rough and surfaced-two-sides thickness of the quarters, in mm (read in trade listings; 10/4 from memory). */
export const QUARTERS = [
  { name: '2/4', rough: 12.7, surfaced: 7.9375 },
  { name: '3/4', rough: 19.05, surfaced: 14.2875 },
  { name: '4/4', rough: 25.4, surfaced: 20.6375 },
  { name: '5/4', rough: 31.75, surfaced: 26.9875 },
  { name: '6/4', rough: 38.1, surfaced: 33.3375 },
  { name: '8/4', rough: 50.8, surfaced: 44.45 },
  { name: '10/4', rough: 63.5, surfaced: 57.15 },
  { name: '12/4', rough: 76.2, surfaced: 69.85 },
  { name: '16/4', rough: 101.6, surfaced: 95.25 },
] as const;
