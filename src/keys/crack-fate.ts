import { bounds, type Frame, type Polygon, type WideLine } from '../geometry';
import { clipLine, measured } from './crack-line';

/**
 * What becomes of a crack on a slab when a piece is cut out of it: an end check that the cut takes off `goes`; one that is cut through, or a crack inside
 * the slab that the cut opens, `comes` to the new end; what lies inside the piece `stays`; null where it never was in the way of this piece.
 */
export type CrackFate = 'goes' | 'comes' | 'stays' | null;

/** A crack that starts within so much of the slab's end is an end check, mm (ours). */
const AT_END = 15;
/** Less of it than this outside the piece is a matter of tracing, mm. */
const WITHIN = 1;

/**
 * @param line of the crack, in the frame in which the slab runs along x
 * @param slab outline of the wood @param piece outline of what is cut from it, both in that frame
 */
export function crackFate<F extends Frame>(line: WideLine, slab: Polygon<F>, piece: Polygon<F>): CrackFate {
  const { length } = measured(line);
  const inside = clipLine(line, piece, 0).reduce((sum, part) => sum + measured(part).length, 0);
  const [cut, whole] = [bounds(piece), bounds(slab)];
  const xs = line.map(([x]) => x);
  const [least, most] = [Math.min(...xs), Math.max(...xs)];
  if (inside > WITHIN)
    return inside > length - WITHIN ? 'stays' : least < cut.minX || most > cut.maxX ? 'comes' : 'stays';
  const check = least < whole.minX + AT_END || most > whole.maxX - AT_END;
  const inLine = line.some(([, y]) => y > cut.minY && y < cut.maxY);
  return check && inLine && (most <= cut.minX + WITHIN || least >= cut.maxX - WITHIN) ? 'goes' : null;
}
