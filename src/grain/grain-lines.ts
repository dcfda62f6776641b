import { distance, type Point } from '../geometry';
import type { GrainField } from './joint-types';

/** A drawn line holds outright this far to either side, mm, and fades out by this far: about as far as a knot's swirl or one cathedral reaches. */
const HOLDS = 10;
const FADES = 40;
/** Lines are followed in steps this long, mm, so that a bend is felt where it is. */
const STRIDE = 5;

/**
 * A field corrected by lines drawn along the grain: on a line the grain runs as the line does; away from it the field's own reading comes
 * back by 40 mm. Directions are mixed as double angles, so that 89 and -89 degrees are neighbours; nodes without wood stay without.
 * @param lines mm on the face, in either direction
 * @returns a new field, or the same one where nothing is drawn; ring spacing is left as it was read
 */
export function withGrainLines(field: GrainField, lines: readonly (readonly Point<'face'>[])[]): GrainField {
  const drawn = lines.flatMap(strides);
  if (drawn.length === 0) return field;
  const { step, x0, y0, columns, rows } = field;
  const [angles, coherence] = [field.angles.slice(), field.coherence.slice()];
  for (let node = 0; node < columns * rows; node++) {
    const read = angles[node] as number;
    if (Number.isNaN(read)) continue;
    const at: Point<'face'> = [x0 + (node % columns) * step, y0 + Math.floor(node / columns) * step];
    // Each stride counts by how near it is; between two lines the grain turns from one to the other.
    let [cos, sin, total, nearest] = [0, 0, 0, FADES];
    for (const { middle, double } of drawn) {
      const off = Math.max(HOLDS / 4, distance(at, middle));
      if (off >= FADES) continue;
      const weight = off ** -4;
      cos += weight * Math.cos(double);
      sin += weight * Math.sin(double);
      total += weight;
      nearest = Math.min(nearest, off);
    }
    if (total === 0) continue;
    const t = Math.min(1, (FADES - nearest) / (FADES - HOLDS));
    const share = t * t * (3 - 2 * t);
    const own = (read * Math.PI) / 90;
    const keeps = (1 - share) * (coherence[node] as number);
    const [x, y] = [keeps * Math.cos(own) + (share * cos) / total, keeps * Math.sin(own) + (share * sin) / total];
    angles[node] = (Math.atan2(y, x) * 90) / Math.PI;
    coherence[node] = Math.min(1, Math.hypot(x, y));
  }
  return { ...field, angles, coherence };
}

/** Short pieces of a line: where each lies, and twice its direction, radians. */
function strides(line: readonly Point<'face'>[]): { middle: Point<'face'>; double: number }[] {
  return line.slice(1).flatMap((to, i) => {
    const from = line[i] as Point<'face'>;
    const n = Math.ceil(distance(from, to) / STRIDE);
    const double = 2 * Math.atan2(to[1] - from[1], to[0] - from[0]);
    return Array.from({ length: n }, (_, k) => {
      const t = (k + 0.5) / n;
      return {
        middle: [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])] as Point<'face'>,
        double,
      };
    });
  });
}
