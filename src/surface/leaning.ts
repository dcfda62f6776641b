import { linearSurface } from './linear';
import { meanPlane } from './plane';
import type { Reading, Surface } from './reading';

/** A face strays from its mean plane by so much, mm: more than any one reading may be off (practice, no source). */
const STRAYS = 3;

/**
 * Facets between readings, laid over their mean plane: beyond the readings the face goes on as it leans. Callipers reach the edges, where no
 * height was read, and how the rails happened to lean must not show in what they say there.
 */
export function leaningSurface(readings: readonly Reading[]): Pick<Surface, 'height' | 'sigma'> {
  const plane = meanPlane(readings.map(({ at, z, sigma }) => ({ at, value: z, sigma: Math.hypot(sigma, STRAYS) })));
  const off = linearSurface(readings.map(({ at, z, sigma }) => ({ at, z: z - plane.height(at), sigma })));
  return { height: (at) => plane.height(at) + off.height(at), sigma: (at) => off.sigma(at) };
}
