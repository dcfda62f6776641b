import type { Polygon } from '../../src/geometry';
import { type FacePicture, rasterOf } from '../../src/raster';
import { seededRandom } from '../../src/search';

/**
 * Faces of an invented log whose pith runs in a helix: turning it by an angle and moving it along by that share of the period maps the
 * log onto itself. So a line at (a, z) of one face has exactly one line on another face on which every ring goes on.
 */
const PERIOD = 1500;
const RADIUS = 22;

/** Brightness of each ring, and its width: random, so that no ring is taken for another. */
function rings() {
  const random = seededRandom(11);
  const edges = [0];
  while ((edges.at(-1) as number) < 500) edges.push((edges.at(-1) as number) + 3 + 6 * random.next());
  const shades = edges.map(() => 90 + 90 * random.next());
  return (r: number): number => {
    const i = edges.findIndex((edge) => edge > r) - 1;
    const [from, to] = [edges[i] as number, edges[i + 1] as number];
    // Dark latewood at the end of each ring.
    return (shades[i] as number) - 45 * ((r - from) / (to - from)) ** 3;
  };
}

/** The sawn face at height z of the log, y from `y0`, 1 mm a pixel. */
export function helixFace(
  z: number,
  { width, height, y0 }: { width: number; height: number; y0: number },
): FacePicture {
  const shade = rings();
  const data = new Uint8Array(3 * width * height);
  for (let c = 0; c < width; c++) {
    const turn = (2 * Math.PI * c) / PERIOD;
    const [py, pz] = [RADIUS * Math.cos(turn), RADIUS * Math.sin(turn)];
    for (let r = 0; r < height; r++) {
      const value = shade(Math.hypot(y0 + r + 0.5 - py, z - pz));
      data.set([value, 0.75 * value, 0.55 * value], 3 * (r * width + c));
    }
  }
  return { raster: rasterOf(width, height, 3, data), mmPerPx: 1, x0: 0, y0: 0 };
}

/** The line of the face at `z2` on which the rings of line `a` on the face at `z1` go on, and how far along it they do. */
export function partner(a: number, z1: number, z2: number): { b: number; dx: number } {
  const b = Math.sqrt(a * a + z1 * z1 - z2 * z2);
  return { b, dx: ((Math.atan2(z2, b) - Math.atan2(z1, a)) * PERIOD) / (2 * Math.PI) };
}

export const rectangleOf = (width: number, height: number): Polygon<'face'> => [
  [0, 0],
  [width, 0],
  [width, height],
  [0, height],
];
