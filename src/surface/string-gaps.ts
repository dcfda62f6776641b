import { distance, type Point } from '../geometry';
import { InputProblem } from '../units';
import { solve } from './matrix';

/** A string or laser line before the edge of a slab, clicked on a photo that was taken square to that edge. */
export interface StringPhoto {
  /** Two points whose distance is known, and that distance, mm. */
  readonly known: { readonly ends: readonly [Point<'photo'>, Point<'photo'>]; readonly mm: number };
  /** The two ends of the string. */
  readonly string: readonly [Point<'photo'>, Point<'photo'>];
  /** Points along the edge of the face. */
  readonly edge: readonly Point<'photo'>[];
}

/** How far below the string the edge lies at one place. */
export interface StringGap {
  /** From the string's first end, mm. */
  readonly along: number;
  /** Square to the string, mm; less than 0 where the edge stands over it. */
  readonly gap: number;
  /** One standard deviation, mm. */
  readonly sigma: number;
}

/** A click hits what is meant to so many pixels, one standard deviation (practice, no source). */
const CLICK = 1.5;
/** A photo taken square by eye tells heights to this share of themselves (practice, no source). */
const SQUARE = 0.02;

/**
 * Gaps between a string and the edge under it, by the one scale that is known. The string must hang or shine in the plane of the edge, and the
 * camera look at it squarely: then the photo is as good as a rule held at each point.
 * @throws InputProblem where the scale or the string has no length
 */
export function stringGaps({ known, string, edge }: StringPhoto): StringGap[] {
  const [px, length] = [distance(...known.ends), distance(...string)];
  if (!(px > 0 && known.mm > 0))
    throw new InputProblem(
      'The two points of known distance lie on one another, or their distance is not above 0.',
      '/known',
      'Tap two points far apart, and type how far apart they are.',
    );
  if (!(length > 0))
    throw new InputProblem('The two ends of the string lie on one another.', '/string', 'Tap it at both its ends.');
  const mmPerPx = known.mm / px;
  const [from, to] = string;
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
  return edge.map(([x, y]) => {
    const [dx, dy] = [x - from[0], y - from[1]];
    const along = (dx * ux + dy * uy) * mmPerPx;
    // Down in a photo is more y: square to a string that runs to the right, below it.
    const gap = (ux * dy - uy * dx) * Math.sign(ux || 1) * mmPerPx;
    return { along, gap, sigma: Math.hypot(Math.SQRT2 * CLICK * mmPerPx, SQUARE * gap) };
  });
}

/**
 * The bow that gaps along an edge stand for, over the whole length of the slab: the parabola of least squares through them, since a bow goes
 * with the square of the length (TRADE 5). Positive with the ends high. Null for fewer than three gaps, which any parabola meets.
 */
export function bowOfString(
  gaps: readonly StringGap[],
  length: number,
): { readonly bow: number; readonly sigma: number } | null {
  const xs = gaps.map(({ along }) => along);
  const [least, most] = [Math.min(...xs), Math.max(...xs)];
  if (gaps.length < 3 || !(most > least)) return null;
  const half = length / 2;
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (const { along, gap, sigma } of gaps) {
    const u = (along - (least + most) / 2) / half;
    const row = [1, u, u * u];
    for (let i = 0; i < 3; i++) {
      right[i] = (right[i] as number) - ((row[i] as number) * gap) / sigma ** 2;
      for (let k = 0; k < 3; k++) {
        normal[3 * i + k] = (normal[3 * i + k] as number) + ((row[i] as number) * (row[k] as number)) / sigma ** 2;
      }
    }
  }
  const bow = solve(normal, 3, right)[2] as number;
  return { bow, sigma: Math.sqrt(solve(normal, 3, Float64Array.of(0, 0, 1))[2] as number) };
}
