import type { Corners } from './quad';
import type { Size } from './working-copy';

/** Steepest tilt that is tried, degrees, and the steps of the search: over all of them, then about the best. */
const STEEPEST = 75;
const STEPS = [5, 1] as const;
/** Focal length over the picture's longer side: telephones' main cameras (practice, as where nothing else is known of a lens). */
const FOCAL = 0.78;

type Vec = readonly [number, number, number];

/**
 * How far from square-on to the plane that some cards of one size lie in a camera is held, degrees: the tilt at which all of them come out square
 * and alike. Good to some degrees, which is enough to tell a person to stand higher; null with fewer than three cards.
 */
export function tiltOf({ width, height }: Size, cards: readonly Corners[]): number | null {
  if (cards.length < 3) return null;
  const focal = FOCAL * Math.max(width, height);
  const rays = cards.map((corners) =>
    corners.map(([u, v]): Vec => [(u - (width - 1) / 2) / focal, (v - (height - 1) / 2) / focal, 1]),
  );
  const [coarse, fine] = STEPS;
  let best = { tilt: 0, azimuth: 0, off: unlike(rays, 0, 0) };
  const attempt = (tilt: number, azimuth: number) => {
    const off = unlike(rays, tilt, azimuth);
    if (off < best.off) best = { tilt, azimuth, off };
  };
  for (let tilt = coarse; tilt <= STEEPEST; tilt += coarse)
    for (let azimuth = 0; azimuth < 360; azimuth += 2 * coarse) attempt(tilt, azimuth);
  const { tilt, azimuth } = best;
  for (let by = -coarse; by <= coarse; by += fine)
    for (let turn = -2 * coarse; turn <= 2 * coarse; turn += 2 * fine) attempt(Math.abs(tilt + by), azimuth + turn);
  return best.tilt;
}

/** How unlike each other the sides of all cards, and their diagonals over the root of two, are on a plane so tilted: the variance of their logarithms. */
function unlike(rays: readonly (readonly Vec[])[], tilt: number, azimuth: number): number {
  const [t, a] = [(tilt * Math.PI) / 180, (azimuth * Math.PI) / 180];
  const normal: Vec = [Math.sin(t) * Math.cos(a), Math.sin(t) * Math.sin(a), Math.cos(t)];
  let [n, sum, squares] = [0, 0, 0];
  for (const card of rays) {
    const corners = card.map(([x, y, z]) => {
      const deep = 1 / Math.max(1e-3, normal[0] * x + normal[1] * y + normal[2] * z);
      return [x * deep, y * deep, z * deep] as const;
    });
    for (const [i, k, longer] of PAIRS) {
      const [p, q] = [corners[i] as Vec, corners[k] as Vec];
      const length = Math.log(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) / longer);
      n++;
      sum += length;
      squares += length * length;
    }
  }
  return squares / n - (sum / n) ** 2;
}

const PAIRS = [
  [0, 1, 1],
  [1, 2, 1],
  [2, 3, 1],
  [3, 0, 1],
  [0, 2, Math.SQRT2],
  [1, 3, Math.SQRT2],
] as const;
