import { bounds, type Point, type Polygon, type Segment } from '../geometry';

/** An end takes up at least this share of the piece's width: less is a corner, or a chord of a round edge. */
const SHARE = 0.2;
/** The rest of a piece lies behind its end's line, to this, mm. */
const CLOSE = 0.1;

/**
 * The straight edge that ends a piece, before (-1) or after (1) it along x, square or at an angle, drawn out to two ys; null where it ends in a curve or
 * in the wood's own edge. With it the way out of the piece, of length 1.
 */
export function straightEnd(
  piece: Polygon<'top'>,
  side: -1 | 1,
  [fromY, toY]: readonly [number, number],
): { readonly line: Segment<'top'>; readonly away: readonly [number, number] } | null {
  const { minY, maxY } = bounds(piece);
  let best: {
    readonly line: Segment<'top'>;
    readonly away: readonly [number, number];
    readonly height: number;
  } | null = null;
  piece.forEach((p, i) => {
    const q = piece[(i + 1) % piece.length] as Point<'top'>;
    const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
    const height = Math.abs(dy);
    if (height < SHARE * (maxY - minY) || (best && height <= best.height)) return;
    const length = Math.hypot(dx, dy);
    const sign = side * Math.sign(dy);
    const away = [(sign * dy) / length, (-sign * dx) / length] as const;
    if (piece.some(([x, y]) => (x - p[0]) * away[0] + (y - p[1]) * away[1] > CLOSE)) return;
    const at = (y: number): Point<'top'> => [p[0] + ((y - p[1]) / dy) * dx, y];
    best = { line: [at(fromY), at(toY)], away, height };
  });
  return best;
}
