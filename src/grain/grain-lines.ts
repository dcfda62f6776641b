import { distance, type Point } from '../geometry';
import type { GrainField } from './joint-types';

/** A drawn line holds outright this far to either side, mm, and fades out by this far: about as far as a knot's swirl or one cathedral reaches. */
const HOLDS = 10;
const FADES = 40;
/** Lines are followed in steps this long, mm, so that a bend is felt where it is. */
const STRIDE = 5;

/** What lines drawn along the grain say of one spot. */
export interface DrawnGrain {
  /** How much it counts against what was read there: 1 on a line and 10 mm around it, 0 from 40 mm on, smooth between. */
  readonly share: number;
  /** Twice the grain's angle, so that 89 and -89 degrees are neighbours, as the sides of a unit vector; shorter where lines disagree. */
  readonly cos: number;
  readonly sin: number;
}

/** A short piece of a drawn line. */
interface Stride {
  readonly middle: Point<'face'>;
  readonly cos: number;
  readonly sin: number;
}

/**
 * What is drawn, ready to be asked of any spot (mm on the face); null where no line is near. Between two lines the grain turns from one to the
 * other.
 * @param lines mm on the face, in either direction
 */
export function drawnGrain(lines: readonly (readonly Point<'face'>[])[]): (at: Point<'face'>) => DrawnGrain | null {
  // Squares as wide as a line reaches: whatever counts at a spot lies in its own square or one of the eight around it.
  const squares = new Map<number, Stride[]>();
  const square = (v: number): number => Math.floor(v / FADES);
  // No face is 40 km across.
  const keyOf = (x: number, y: number): number => x * 2e6 + y;
  for (const stride of lines.flatMap(strides)) {
    const [x, y] = stride.middle.map(square) as [number, number];
    for (let i = x - 1; i <= x + 1; i++)
      for (let j = y - 1; j <= y + 1; j++) {
        const key = keyOf(i, j);
        const held = squares.get(key);
        if (held) held.push(stride);
        else squares.set(key, [stride]);
      }
  }
  if (squares.size === 0) return () => null;
  return (at) => {
    const held = squares.get(keyOf(square(at[0]), square(at[1])));
    if (!held) return null;
    let [cos, sin, total, nearest] = [0, 0, 0, FADES];
    for (const stride of held) {
      const off = Math.max(HOLDS / 4, distance(at, stride.middle));
      if (off >= FADES) continue;
      // Each stride counts by how near it is.
      const weight = off ** -4;
      cos += weight * stride.cos;
      sin += weight * stride.sin;
      total += weight;
      nearest = Math.min(nearest, off);
    }
    if (total === 0) return null;
    const t = Math.min(1, (FADES - nearest) / (FADES - HOLDS));
    return { share: t * t * (3 - 2 * t), cos: cos / total, sin: sin / total };
  };
}

/**
 * A field corrected by lines drawn along the grain: on a line the grain runs as the line does; away from it the field's own reading comes
 * back by 40 mm. Nodes without wood stay without.
 * @param lines mm on the face, in either direction
 * @returns a new field, or the same one where nothing is drawn; ring spacing is left as it was read
 */
export function withGrainLines(field: GrainField, lines: readonly (readonly Point<'face'>[])[]): GrainField {
  if (lines.every((line) => line.length < 2)) return field;
  const drawnAt = drawnGrain(lines);
  const { step, x0, y0, columns, rows } = field;
  const [angles, coherence] = [field.angles.slice(), field.coherence.slice()];
  for (let node = 0; node < columns * rows; node++) {
    const read = angles[node] as number;
    if (Number.isNaN(read)) continue;
    const drawn = drawnAt([x0 + (node % columns) * step, y0 + Math.floor(node / columns) * step]);
    if (!drawn) continue;
    const { share, cos, sin } = drawn;
    const own = (read * Math.PI) / 90;
    const keeps = (1 - share) * (coherence[node] as number);
    const [x, y] = [keeps * Math.cos(own) + share * cos, keeps * Math.sin(own) + share * sin];
    angles[node] = (Math.atan2(y, x) * 90) / Math.PI;
    coherence[node] = Math.min(1, Math.hypot(x, y));
  }
  return { ...field, angles, coherence };
}

/** Short pieces of a line: where each lies, and twice its direction. */
function strides(line: readonly Point<'face'>[]): Stride[] {
  return line.slice(1).flatMap((to, i) => {
    const from = line[i] as Point<'face'>;
    const n = Math.ceil(distance(from, to) / STRIDE);
    const double = 2 * Math.atan2(to[1] - from[1], to[0] - from[0]);
    return Array.from({ length: n }, (_, k) => {
      const t = (k + 0.5) / n;
      const middle: Point<'face'> = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
      return { middle, cos: Math.cos(double), sin: Math.sin(double) };
    });
  });
}
