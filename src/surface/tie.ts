import type { Slab, Spot } from '../job';
import { leaningSurface } from './leaning';
import { type Plane, planeNear, type Told } from './plane';
import type { Reading } from './reading';

/**
 * The plane that ties the readings of a slab's two faces when each was read by itself, the slab turned over in between. A height `r` of the
 * underside, upward out of it, lies at plane(x, y) - r over the upper face's own plane.
 */
export interface Tie extends Plane {
  /** Thicknesses against the tie: how far each is off, mm. */
  readonly off: readonly { readonly spot: string; readonly mm: number }[];
}

/** A slab is of even thickness to so much, mm, at its ends and edges, as far as nobody measured it (practice, no source). */
const WEDGE = 2;
/** A slab whose thickness is only said of the whole is of it to so much, mm (practice, no source). */
const NOMINAL = 1;
/** How far a thickness rises or falls over the slab without being a wedge, mm (practice, no source). */
const WAVES = 0.5;

/**
 * Ties the faces by the thicknesses that were measured: least squares with their sigmas, with the expectation that a slab is of nearly even
 * thickness where fewer than three of them tell otherwise. Null where neither a thickness nor readings of both faces are there.
 */
export function tieFaces(slab: Slab): Tie | null {
  const spots = Object.values(slab.spots);
  const read = (key: 'top' | 'bottom'): Reading[] =>
    spots.flatMap(({ at, sigma, [key]: z }) => (z === null ? [] : [{ at, z, sigma }]));
  const [top, bottom] = [read('top'), read('bottom')];
  if (top.length === 0 || bottom.length === 0) return null;
  const [upper, lower] = [leaningSurface(top), leaningSurface(bottom)];
  const measured = spots.filter((spot): spot is Spot & { thickness: number } => spot.thickness !== null);
  const mean =
    measured.length > 0
      ? measured.reduce((sum, { thickness }) => sum + thickness, 0) / measured.length
      : slab.thickness;
  if (mean === null) return null;
  const known = measured.map(({ at, thickness, sigma }): Told => {
    const doubt = Math.hypot(sigma, upper.sigma(at), lower.sigma(at), WAVES);
    return { at, value: upper.height(at) + lower.height(at) - thickness, sigma: doubt };
  });
  const level = top.map(({ at, z, sigma }): Told => {
    const doubt = Math.hypot(sigma, lower.sigma(at), WAVES);
    return { at, value: z + lower.height(at) - mean, sigma: doubt };
  });
  // First the plane of even thickness; then what the thicknesses say of it, held to it by what a wedge may be.
  const about = measured.length > 0 ? WEDGE : NOMINAL;
  const plane = planeNear(known, { told: level, held: [about, WEDGE, WEDGE] });
  return {
    ...plane,
    off: measured.map(({ id, at, thickness }) => ({
      spot: id,
      mm: thickness - (upper.height(at) + lower.height(at) - plane.height(at)),
    })),
  };
}
